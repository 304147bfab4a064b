// Figures that are made one set at a time, for every caller.

import type { FastifyRequest } from 'fastify';
import type { ServerContext } from '../../context/server-context.ts';
import { ownerOf } from '../../sign-in/actor.ts';
import { actorOf } from '../../sign-in/guard.ts';

export const inTurn = <T>(
  { takeTurn }: Pick<ServerContext, 'takeTurn'>,
  request: FastifyRequest,
  work: () => Promise<T>,
): Promise<T> => takeTurn({ owner: ownerOf(actorOf(request)), mayRefuse: request.method !== 'POST' }, work);
