// One act of a person: journalled and applied by the running lab, refused as a problem.

import type { FastifyRequest } from 'fastify';
import type { Act } from '../../../lab/act.ts';
import { HttpProblem } from '../problem.ts';
import type { ServerContext } from '../server-context.ts';

export const perform = async (
  { running }: ServerContext,
  _request: FastifyRequest,
  act: Act,
  _before: unknown,
  _after: () => unknown,
): Promise<void> => {
  const outcome = await running.act(act);
  if (!outcome.ok) throw new HttpProblem('act-refused', outcome.message, { code: outcome.code });
};
