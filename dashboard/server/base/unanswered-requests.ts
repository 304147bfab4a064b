// How many requests of one connection may wait for their answers. Answers that are made and not read lie in memory, so a
// client that sends requests ahead and reads nothing could fill it, before it has signed in.

import type { Socket } from 'node:net';
import type { App } from './app.ts';

/** No browser sends a request ahead of an answer (RFC 9112, 9.3.2); a program may send a few. Our figure. */
const MOST_UNANSWERED = 10;

/** Ends the connection of whoever sends more ahead. */
export function limitUnanswered(app: App): void {
  const unanswered = new WeakMap<Socket, number>();
  app.addHook('onRequest', async (request, reply) => {
    const { socket } = request.raw;
    const before = unanswered.get(socket) ?? 0;
    // What came in one piece with the request that ended the connection is still handed on.
    if (socket.destroyed || before >= MOST_UNANSWERED) {
      socket.destroy();
      return reply.hijack();
    }
    unanswered.set(socket, before + 1);
    reply.raw.once('close', () => unanswered.set(socket, (unanswered.get(socket) ?? 1) - 1));
    return undefined;
  });
}
