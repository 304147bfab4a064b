// One try at a secret, slowed by the throttle, and the check of a new password.

import type { FastifyRequest } from 'fastify';
import { HttpProblem } from '../base/problem.ts';
import { passwordRefusal } from './password.ts';
import type { SignIn } from './sign-in.ts';

/** Slows tries at `account` from the requesting address; `attempt` returns whether the secret was right. */
export const throttleAttempt = async (
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

export const refuseWeakPassword = (password: string, names: readonly string[]): void => {
  const refusal = passwordRefusal(password, names);
  if (refusal !== null)
    throw new HttpProblem('password-refused', {
      values: { ...refusal },
      errors: [{ pointer: '/body/password', code: 'password-refused', values: { ...refusal } }],
    });
};
