// Probes, claimed and unclaimed.

import { Type } from 'typebox';
import { BrokerEndpointView } from '../../api/lab-bodies.ts';
import { ProbeView } from '../../api/schemas.ts';
import type { App } from '../base/app.ts';
import type { ServerContext } from '../context/server-context.ts';
import { probeViews } from '../views/probe-view.ts';
import { answers } from './common/answers.ts';

export const probeRoutes = (app: App, { running }: ServerContext): void => {
  app.get(
    '/api/probes',
    {
      config: { needs: 'read' },
      schema: {
        tags: ['measuring'],
        summary: 'Every probe that was ever seen or entered',
        description: 'A probe seen for the first time has `claimed: false` until it is given to a station.',
        response: answers(Type.Array(ProbeView)),
      },
    },
    () => [...probeViews(running)],
  );
  app.get(
    '/api/broker-endpoint',
    {
      config: { needs: 'set-up-lab' },
      schema: {
        tags: ['set-up'],
        summary: 'Where gateways publish to',
        description:
          'The password of the own broker is printed by the program when it starts and stays there.',
        response: answers(BrokerEndpointView),
      },
    },
    () => ({ own: true, host: null, port: 1883, user: null, ...running.brokerEndpoint?.() }),
  );
};
