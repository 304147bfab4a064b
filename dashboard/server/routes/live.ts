// The live stream: server-sent events over plain HTTP/1.1, one long answer for each screen.

import { Type } from 'typebox';
import type { App } from '../base/app.ts';
import { liveClient } from '../live/live-client.ts';
import { HttpProblem } from '../base/problem.ts';
import type { Place } from '../base/live-places.ts';
import { ownerOf } from '../sign-in/actor.ts';
import { actorOf } from '../sign-in/guard.ts';
import { AskedReader, readerOf } from '../sign-in/reader.ts';
import type { ServerContext } from '../context/server-context.ts';
import { describeRoute } from './common/describe-route.ts';

const MOST_SCREENS = 100;
/** How long a browser waits before it connects again. */
const RETRY_MILLIS = 1000;

export const liveRoutes = (app: App, { running, feed, options }: ServerContext): void => {
  const most = options.mostLiveScreens ?? MOST_SCREENS;
  app.get(
    '/api/live',
    {
      // A HEAD would hold a place on the stream and never get anything.
      exposeHeadRoute: false,
      ...describeRoute('see-wall', 'measuring', 'What changes, as it changes (server-sent events)', {
        description:
          'Events `station`, `alarm`, `probe` and `lab` carry JSON; each has an id `{boot}-{sequence}`. A client that ' +
          'comes again with `Last-Event-ID` (or `lastEventId` in the address) gets what it missed, or `restart` when ' +
          'that is no longer known and it must load anew. `beat` comes every second. A station is sent at most four ' +
          'times a second. A client that does not read is dropped.',
        produces: ['text/event-stream'],
        querystring: Type.Object({
          ...AskedReader,
          lastEventId: Type.Optional(Type.String({ maxLength: 100 })),
        }),
        response: {
          200: {
            description: 'A stream of events that does not end',
            content: { 'text/event-stream': { schema: Type.String() } },
          },
        },
      }),
    },
    (request, reply) => {
      const actor = actorOf(request);
      const place: Place = { isWall: actor.kind === 'screen', owner: ownerOf(actor) };
      const limit = feed.limitReached(place, most);
      if (limit !== null)
        throw new HttpProblem('too-many-screens', {
          values: { most: limit },
          headers: { 'retry-after': '10' },
        });
      const header = request.headers['last-event-id'];
      const lastSeen = (Array.isArray(header) ? header[0] : header) ?? request.query.lastEventId ?? null;
      const reader = readerOf(request, running, request.query);
      for (const [name, value] of Object.entries(reply.getHeaders()))
        if (value !== undefined) reply.raw.setHeader(name, value);
      reply.hijack();
      reply.raw.writeHead(200, {
        'content-type': 'text/event-stream; charset=utf-8',
        'cache-control': 'no-store',
        // Proxies that gather answers would hold the beat back.
        'x-accel-buffering': 'no',
      });
      reply.raw.write(`retry: ${RETRY_MILLIS}\n\n`);
      const stillWelcome = () => request.identity?.stillWelcome() ?? false;
      const client = liveClient(reply.raw, { reader, place, stillWelcome });
      reply.raw.on('close', () => feed.leave(client));
      feed.join(client, lastSeen);
    },
  );
};
