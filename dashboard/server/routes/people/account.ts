// A person's own account: how they read and are notified, and the password.

import type { FastifyRequest } from 'fastify';
import type { Person } from '../../../../lab/person.ts';
import { NewPasswordBody, PersonView, Preferences } from '../../../api/people.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import { auditChange, saveAudited } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { refuseWeakPassword, throttleAttempt } from '../../sign-in/attempt.ts';
import { actorOf } from '../../sign-in/guard.ts';
import { personView } from '../../views/person-view.ts';
import { DONE, Done } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { personOf } from '../../sign-in/actor.ts';

interface OwnAccount {
  readonly person: Person;
  /** Public id of the requesting session. */
  readonly session: string;
}

/** @throws for a program: only persons have an account */
export const ownAccount = (running: RunningLab, request: FastifyRequest): OwnAccount => {
  const actor = actorOf(request);
  const person = personOf(actor, running);
  if (actor.kind !== 'person' || person === undefined)
    throw new HttpProblem('not-allowed', { values: { who: 'token' } });
  return { person, session: actor.session };
};

export const setPreferences = (app: App, context: ServerContext): void => {
  const { running, signIn } = context;
  app.put(
    '/api/account',
    describeRoute('own-account', 'people', 'Set how you read and are notified', {
      body: Preferences,
      response: { 200: PersonView },
    }),
    (request) => {
      const { person } = ownAccount(running, request);
      const after = { ...person, ...request.body };
      saveAudited(context, request, () => running.repository.savePerson(after), {
        action: 'preferences-saved',
        subject: ['person', person.id],
        before: person,
        after,
      });
      running.notices.notifyOfNewEmail(person, after, request.ip);
      return personView(after, signIn);
    },
  );
};

export const changePassword = (app: App, { running, signIn, audit }: ServerContext): void => {
  app.put(
    '/api/account/password',
    describeRoute('own-account', 'people', 'Change your password', {
      description: 'All your other sessions end.',
      body: NewPasswordBody,
      response: { 200: Done },
    }),
    async (request) => {
      const { person, session } = ownAccount(running, request);
      const { password, newPassword } = request.body;
      const { site } = running.lab();
      const before = signIn.credentials.passwordOf(person.id);
      const isRight = await throttleAttempt(signIn, request, person.id, true, () =>
        signIn.passwords.matches(password, before),
      );
      if (!isRight) throw new HttpProblem('wrong-name-or-password');
      refuseWeakPassword(newPassword, [person.name, person.id, site.name, site.id]);
      const after = await signIn.passwords.hash(newPassword);
      // Meanwhile it may have been changed, or the person removed: a later one of the same name must not inherit it.
      if (signIn.credentials.passwordOf(person.id) !== before)
        throw new HttpProblem('wrong-name-or-password');
      signIn.credentials.setPassword(person.id, after);
      signIn.sessions.endAll(person.id, session);
      auditChange(audit, request, { action: 'password-set', subject: ['person', person.id] });
      running.notices.notifyOfAccount(person, { what: 'password_set', from: request.ip });
      return DONE;
    },
  );
};
