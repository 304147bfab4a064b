// One's own second factor: begun, switched on by a code of the app, switched off; and a manager who takes it off where
// both the device and the recovery codes are lost.

import type { FastifyRequest } from 'fastify';
import { ConfirmBody, NewSecondFactor, RecoveryCodes, SecondFactorBody } from '../../../api/people.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import { auditChange, saveAudited } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { throttleAttempt } from '../../sign-in/attempt.ts';
import { DONE, Done } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { ownAccount } from './account.ts';
import { requirePerson, PersonId } from './person-of-request.ts';

export const ownSecondFactorRoutes = (app: App, context: ServerContext): void => {
  const { running, signIn, audit } = context;
  const { secondFactors } = signIn;
  /** A browser that somebody left open is not enough. */
  const withPassword = async (request: FastifyRequest, password: string) => {
    const { person, session } = ownAccount(running, request);
    const isRight = await throttleAttempt(signIn, request, person.id, true, () =>
      signIn.passwords.matches(password, signIn.credentials.passwordOf(person.id)),
    );
    if (!isRight) throw new HttpProblem('wrong-name-or-password');
    // Meanwhile the person may have been removed, or signed out.
    if (signIn.sessions.of(person.id).every(({ id }) => id !== session))
      throw new HttpProblem('sign-in-needed');
    return person;
  };
  app.post(
    '/api/account/second-factor',
    describeRoute('own-account', 'people', 'Begin to set up your second factor', {
      description:
        'Answers a secret for an authenticator app (RFC 6238: SHA-1, six digits, 30 seconds). It counts for nothing before a code of it was sent.',
      body: ConfirmBody,
      response: { 200: NewSecondFactor },
    }),
    async (request) => {
      const person = await withPassword(request, request.body.password);
      return secondFactors.begin(person.id, { issuer: running.lab().site.name, label: person.name });
    },
  );
  app.put(
    '/api/account/second-factor',
    describeRoute('own-account', 'people', 'Switch your second factor on', {
      description:
        'With a code of the secret that was begun. Answers recovery codes, shown this once; your other sessions end.',
      body: SecondFactorBody,
      response: { 200: RecoveryCodes },
    }),
    async (request) => {
      const { person, session } = ownAccount(running, request);
      let recoveryCodes: readonly string[] | null = null;
      await throttleAttempt(signIn, request, `second factor of ${person.id}`, true, async () => {
        recoveryCodes = secondFactors.switchOn(person.id, request.body.code);
        return recoveryCodes !== null;
      });
      if (recoveryCodes === null) throw new HttpProblem('wrong-second-factor');
      signIn.sessions.endAll(person.id, session);
      auditChange(audit, request, { action: 'second-factor-on', subject: ['person', person.id] });
      running.notices.notifyOfAccount(person, { what: 'second_factor_on', from: request.ip });
      return { recoveryCodes: [...recoveryCodes] };
    },
  );
  app.post(
    '/api/account/second-factor/off',
    describeRoute('own-account', 'people', 'Switch your second factor off', {
      body: ConfirmBody,
      response: { 200: Done },
    }),
    async (request) => {
      const { id } = await withPassword(request, request.body.password);
      return switchOff(context, request, id);
    },
  );
};

export const resetSecondFactor = (app: App, context: ServerContext): void => {
  app.delete(
    '/api/people/:id/second-factor',
    describeRoute('manage-people', 'people', 'Take the second factor off a person', {
      description: 'For a lost device without recovery codes. The person is notified.',
      params: PersonId,
      response: { 200: Done },
    }),
    (request) => switchOff(context, request, request.params.id),
  );
};

function switchOff(context: ServerContext, request: FastifyRequest, id: string) {
  const { running, signIn } = context;
  const person = requirePerson(running, id);
  if (signIn.secondFactors.recoveryCodesLeft(id) === null) return DONE;
  saveAudited(context, request, () => signIn.secondFactors.switchOff(id), {
    action: 'second-factor-off',
    subject: ['person', id],
  });
  running.notices.notifyOfAccount(person, { what: 'second_factor_off', from: request.ip });
  return DONE;
}
