// How many requests of one connection may wait for their answers. Answers that are made and not read lie in memory, so a
// client that sends requests ahead and reads nothing could fill it, before it has signed in.

import type { ServerResponse } from 'node:http';
import type { Duplex } from 'node:stream';
import type { App } from './app.ts';

/** No browser sends a request ahead of an answer (RFC 9112, 9.3.2); a program may send a few. Our figure. */
const MOST_UNANSWERED = 10;

/**
 * Ends the connection of whoever sends more ahead. Answers how to see whether a connection is in the middle of an answer, or
 * a request that came whole waits for one.
 */
export function limitUnanswered(app: App): (socket: Duplex) => boolean {
  const unanswered = new WeakMap<Duplex, Set<ServerResponse>>();
  app.addHook('onRequest', async (request, reply) => {
    const { socket } = request.raw;
    const waiting = unanswered.get(socket) ?? new Set();
    // What came in one piece with the request that ended the connection is still handed on.
    if (socket.destroyed || waiting.size >= MOST_UNANSWERED) {
      socket.destroy();
      return reply.hijack();
    }
    unanswered.set(socket, waiting.add(reply.raw));
    reply.raw.once('close', () => waiting.delete(reply.raw));
    return undefined;
  });
  return (socket) =>
    [...(unanswered.get(socket) ?? [])].some(({ req, headersSent }) => req.complete || headersSent);
}
