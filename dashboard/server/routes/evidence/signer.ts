// Who signs: a person. A token, a wall and whoever has not signed in leave no signature.

import type { FastifyRequest } from 'fastify';
import { HttpProblem } from '../../base/problem.ts';
import { actorOf } from '../../sign-in/guard.ts';

/** @returns the name that is under what is signed */
export const signerOf = (request: FastifyRequest): string => {
  const actor = actorOf(request);
  if (actor.kind !== 'person') throw new HttpProblem('person-must-sign');
  return actor.name;
};
