// One try at a secret, slowed as the throttle says, the second factor, and the check of a new password.

import type { FastifyRequest } from 'fastify';
import type { Person } from '../../../lab/person.ts';
import { HttpProblem } from '../base/problem.ts';
import { audited } from '../context/audited.ts';
import type { ServerContext } from '../context/server-context.ts';
import { passwordRefusal } from './password.ts';
import type { SignIn } from './sign-in.ts';

/** Slows tries at `account` from the asking address; `attempt` says whether the secret was right. */
export const throttled = async (
  signIn: SignIn,
  request: FastifyRequest,
  account: string,
  knownAddress: boolean,
  attempt: () => Promise<boolean>,
): Promise<boolean> => {
  const wait = signIn.throttle.secondsToWait(account, request.ip, knownAddress);
  if (wait > 0)
    throw new HttpProblem('too-many-attempts', {
      values: { wait },
      headers: { 'retry-after': String(wait) },
    });
  // Counted before the answer is known, so that many tries at once are not all free.
  signIn.throttle.failed(account, request.ip);
  const right = await attempt();
  if (right) signIn.throttle.succeeded(account, request.ip);
  return right;
};

/** @throws HttpProblem where the person has a second factor and `code` is none of it */
export const checkSecondFactor = async (
  { running, signIn, audit }: ServerContext,
  request: FastifyRequest,
  person: Person,
  code: string | undefined,
  knownAddress: boolean,
): Promise<void> => {
  const { secondFactors } = signIn;
  if (secondFactors.recoveryCodesLeft(person.id) === null) return;
  if (code === undefined) throw new HttpProblem('second-factor-needed');
  let used: ReturnType<typeof secondFactors.use> = null;
  await throttled(signIn, request, `second factor of ${person.id}`, knownAddress, async () => {
    used = secondFactors.use(person.id, code);
    return used !== null;
  });
  if (used === null) {
    const { id, name } = person;
    audited(audit, request, { action: 'sign-in-refused', entity: 'person', entityId: id, actor: name });
    throw new HttpProblem('wrong-second-factor');
  }
  if (used === 'recovery')
    running.notices.notifyOfAccount(person, { what: 'recovery_code_used', from: request.ip });
};

export const refuseWeakPassword = (password: string, names: readonly string[]): void => {
  const refusal = passwordRefusal(password, names);
  if (refusal !== null)
    throw new HttpProblem('password-refused', {
      values: { ...refusal },
      errors: [{ pointer: '/body/password', code: 'password-refused', values: { ...refusal } }],
    });
};
