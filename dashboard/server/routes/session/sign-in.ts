// Signing in and typing the password again. Wrong tries are slowed, never locked out for good.

import { ConfirmBody, SessionView, SignInBody } from '../../../api/people.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import { auditChange } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { throttleAttempt } from '../../sign-in/attempt.ts';
import { actorOf } from '../../sign-in/guard.ts';
import { nameKey, personNamed } from '../../sign-in/naming.ts';
import { DONE, Done } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { checkSecondFactor } from './check-second-factor.ts';
import { beginSession } from './describe-session.ts';

export const signInWithPassword = (app: App, context: ServerContext): void => {
  const { running, signIn, audit } = context;
  app.post(
    '/api/session',
    describeRoute('nothing', 'people', 'Sign in', {
      description:
        'Sets a session cookie that scripts cannot read. Wrong tries are answered ever more slowly (`429` with ' +
        '`Retry-After`), by account and address; nobody is locked out for good. Who has a second factor is asked for a code ' +
        'of it (`second-factor-needed`).',
      body: SignInBody,
      response: { 200: SessionView },
    }),
    async (request, reply) => {
      const { name, password, secondFactor } = request.body;
      const person = personNamed(running.lab().people, name);
      const isKnownAddress =
        person !== undefined && signIn.sessions.of(person.id).some(({ address }) => address === request.ip);
      const hash = person === undefined ? null : signIn.credentials.passwordOf(person.id);
      const account = person?.id ?? `nobody ${nameKey(name)}`;
      const isRight = await throttleAttempt(signIn, request, account, isKnownAddress, () =>
        signIn.passwords.matches(password, hash),
      );
      // While it was looked at the password may have been changed, or the person removed.
      const stillHolds = person !== undefined && signIn.credentials.passwordOf(person.id) === hash;
      if (isRight && stillHolds) {
        await checkSecondFactor(context, request, person, secondFactor, isKnownAddress);
        return beginSession(context, request, reply, person);
      }
      // A name that is nobody's may be a password typed into the wrong field; it is not written down.
      const [actor, id] = person === undefined ? ['nobody', ''] : [person.name, person.id];
      auditChange(audit, request, { action: 'sign-in-refused', subject: ['person', id], actor });
      throw new HttpProblem('wrong-name-or-password');
    },
  );
};

export const confirmPassword = (app: App, { signIn }: ServerContext): void => {
  app.post(
    '/api/session/confirm',
    describeRoute('own-account', 'people', 'Type the password again', {
      description: 'Set-up and people ask for it when it was last typed more than half an hour ago.',
      body: ConfirmBody,
      response: { 200: Done },
    }),
    async (request) => {
      const actor = actorOf(request);
      if (actor.kind !== 'person') throw new HttpProblem('not-allowed', { values: { who: 'token' } });
      const isRight = await throttleAttempt(signIn, request, actor.person, true, () =>
        signIn.passwords.matches(request.body.password, signIn.credentials.passwordOf(actor.person)),
      );
      if (!isRight) throw new HttpProblem('wrong-name-or-password');
      signIn.sessions.confirm(actor.session);
      return DONE;
    },
  );
};
