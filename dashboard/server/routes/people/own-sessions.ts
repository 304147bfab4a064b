// Where one is signed in, and the end of a session elsewhere.

import { Type } from 'typebox';
import { OpenSession } from '../../../api/people.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import { auditChange } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { DONE, Done } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { ownAccount } from './account.ts';
import { iso } from '../../../../wax/iso.ts';

export const ownSessionRoutes = (app: App, { running, signIn, audit }: ServerContext): void => {
  app.get(
    '/api/account/sessions',
    describeRoute('own-account', 'people', 'Where you are signed in', {
      response: { 200: Type.Array(OpenSession) },
    }),
    (request) => {
      const own = ownAccount(running, request);
      return signIn.sessions
        .of(own.person.id)
        .map(({ id, beganAt, seenAt, address, agent }) => ({
          id,
          isThisOne: id === own.session,
          beganAt: iso(beganAt),
          seenAt: iso(seenAt),
          address,
          agent,
        }));
    },
  );
  app.delete(
    '/api/account/sessions/:id',
    describeRoute('own-account', 'people', 'End one of your sessions', {
      description: 'For a phone that was lost. What it shows goes dark within a second.',
      params: Type.Object({ id: Type.String({ maxLength: 40 }) }),
      response: { 200: Done },
    }),
    (request) => {
      const { person } = ownAccount(running, request);
      if (!signIn.sessions.end(person.id, request.params.id)) throw new HttpProblem('unknown-session');
      auditChange(audit, request, { action: 'session-ended', subject: ['person', person.id] });
      return DONE;
    },
  );
};
