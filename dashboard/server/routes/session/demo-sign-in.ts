// Signing in without a password as one of the invented people, in the demonstration and on its own machine alone, so
// that accounts, alarms on a phone and set-up can be tried.

import { DemoSignInBody, SessionView } from '../../../api/people.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { actorOf } from '../../sign-in/guard.ts';
import { describeRoute } from '../common/describe-route.ts';
import { beginSession } from './describe-session.ts';

export const demoSignIn = (app: App, context: ServerContext): void => {
  const { running } = context;
  if (!running.demo) return;
  app.post(
    '/api/session/demo',
    describeRoute('nothing', 'people', 'Sign in as a person of the demonstration', {
      description: 'Only in the demonstration, and only for a visitor on the same machine.',
      body: DemoSignInBody,
      response: { 200: SessionView },
    }),
    (request, reply) => {
      const person = running.lab().people.find(({ id }) => id === request.body.person);
      if (actorOf(request).kind !== 'demo-visitor' || person === undefined)
        throw new HttpProblem('sign-in-needed');
      return beginSession(context, request, reply, person);
    },
  );
};
