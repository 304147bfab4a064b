// The stream of which lab reported something; the page then loads what it was. Each person has a share of its places.

import type { FastifyInstance, FastifyRequest } from 'fastify';
import { limitReached, type Place } from '../dashboard/server/base/live-places.ts';
import type { Changes } from './changes.ts';

/** Open at once, of all people. */
const MOST_SCREENS = 400;

export function liveRoute(
  app: FastifyInstance,
  changes: Changes,
  nameOf: (request: FastifyRequest) => string | null,
): void {
  const screens = new Set<Place>();
  app.get('/live', { exposeHeadRoute: false }, (request, reply) => {
    const place: Place = { isWall: false, owner: nameOf(request) };
    if (limitReached(screens, place, MOST_SCREENS) !== null)
      return reply.code(429).header('retry-after', '10').send();
    screens.add(place);
    reply.hijack();
    const { raw } = reply;
    raw.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store' });
    raw.write(': open\n\n');
    const end = changes.subscribe(() => raw.write('data: \n\n'));
    raw.on('close', () => {
      end();
      screens.delete(place);
    });
    return undefined;
  });
}
