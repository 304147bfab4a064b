// What of a request reaches the log: method, path without its query, status. No address, name, cookie, token,
// key or body: a log is copied about more freely than a database.

import type { FastifyRequest } from 'fastify';
import type { ServerOptions } from './context/server-context.ts';

export const requestLog = ({ level, stream }: NonNullable<ServerOptions['log']>) => ({
  level,
  ...(stream === undefined ? {} : { stream }),
  serializers: {
    // Ids in paths are those of stations, alarms and patterns; persons are named by id there, so their part is cut.
    req: (request: FastifyRequest) => ({
      method: request.method,
      path: (request.url.split('?')[0] ?? '').replace(
        /^(\/api\/(?:people|account\/sessions|tokens|wall-links|calendar-links)\/)[^/]+/,
        '$1...',
      ),
    }),
    err: (error: Error) => ({ type: error.name, message: error.message, stack: error.stack ?? '' }),
  },
});
