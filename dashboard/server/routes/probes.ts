// Probes, claimed and unclaimed.

import { Type } from 'typebox';
import { ProbeView } from '../../api/schemas.ts';
import type { App } from '../app.ts';
import type { ServerContext } from '../server-context.ts';
import { probeViews } from '../views/probe-view.ts';
import { answers } from './answers.ts';

export const probeRoutes = (app: App, { running }: ServerContext): void => {
  app.get(
    '/api/probes',
    {
      config: { needs: 'read' },
      schema: {
        tags: ['measuring'],
        summary: 'Every probe that was ever heard or entered',
        description: 'A probe heard for the first time has `claimed: false` until it is given to a station.',
        response: answers(Type.Array(ProbeView)),
      },
    },
    () => [...probeViews(running)],
  );
};
