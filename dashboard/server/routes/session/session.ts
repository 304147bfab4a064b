// Who is signed in here, and signing out.

import { SessionView } from '../../../api/people.ts';
import type { App } from '../../base/app.ts';
import { auditChange } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { clearCookie } from '../../sign-in/cookies.ts';
import { actorOf } from '../../sign-in/guard.ts';
import { DONE, Done } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { describeSession } from './describe-session.ts';

export const session = (app: App, context: ServerContext): void => {
  app.get(
    '/api/session',
    describeRoute('nothing', 'people', 'Who is signed in here and may do what', {
      response: { 200: SessionView },
    }),
    (request) => describeSession(context, request),
  );
  app.delete(
    '/api/session',
    describeRoute('nothing', 'people', 'Sign out', { response: { 200: Done } }),
    (request, reply) => {
      const actor = actorOf(request);
      if (actor.kind === 'person') {
        context.signIn.sessions.end(actor.person, actor.session);
        auditChange(context.audit, request, { action: 'signed-out', subject: ['person', actor.person] });
      }
      clearCookie(request, reply, 'session');
      return DONE;
    },
  );
};
