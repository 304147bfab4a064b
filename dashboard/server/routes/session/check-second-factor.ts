// The second factor of whoever signs in, after the password or the one-time code was right.

import type { FastifyRequest } from 'fastify';
import type { Person } from '../../../../lab/person.ts';
import { HttpProblem } from '../../base/problem.ts';
import { auditChange } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { throttleAttempt } from '../../sign-in/attempt.ts';

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
  await throttleAttempt(signIn, request, `second factor of ${person.id}`, knownAddress, async () => {
    used = secondFactors.use(person.id, code);
    return used !== null;
  });
  if (used === null) {
    const { id, name } = person;
    auditChange(audit, request, { action: 'sign-in-refused', subject: ['person', id], actor: name });
    throw new HttpProblem('wrong-second-factor');
  }
  if (used === 'recovery')
    running.notices.notifyOfAccount(person, { what: 'recovery_code_used', from: request.ip });
};
