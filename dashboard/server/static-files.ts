// The built screens: files named by their content are kept for ever, the page itself is requested each time.
// Paths of screens answer with the page; nothing outside the folder is ever served.

import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { App } from './base/app.ts';
import { HttpProblem } from './base/problem.ts';

const PAGE = 'index.html';

/** A person opened a path without a file ending in a browser. */
const asksForScreen = (request: FastifyRequest): boolean => {
  const path = request.url.split('?')[0] ?? '/';
  return (
    request.method === 'GET' &&
    !/^\/(api|metrics|assets)(\/|$)/.test(path) &&
    !path.slice(path.lastIndexOf('/')).includes('.') &&
    (request.headers.accept ?? '').includes('text/html')
  );
};

const refuseUnknownAddress = (request: FastifyRequest): never => {
  throw new HttpProblem('unknown-address', { values: { method: request.method } });
};

export const staticFiles = (app: App, webRoot: string | null): void => {
  const root = webRoot === null ? null : resolve(webRoot);
  if (root === null || !existsSync(join(root, PAGE))) {
    app.setNotFoundHandler(refuseUnknownAddress);
    return;
  }
  const page = readFileSync(join(root, PAGE));
  app.register(async (scope) => {
    scope.addHook('onRoute', (route) => {
      route.config = { ...route.config, needs: 'nothing' };
    });
    await scope.register(fastifyStatic, {
      root,
      wildcard: false,
      cacheControl: false,
      // The build lays a compressed form beside what gains by it.
      preCompressed: true,
      setHeaders: (reply, path) => {
        reply.setHeader('vary', 'accept-encoding');
        const isNamedByContent = path.startsWith(join(root, 'assets'));
        reply.setHeader(
          'cache-control',
          isNamedByContent ? 'public, max-age=31536000, immutable' : 'no-cache',
        );
      },
    });
  });
  app.setNotFoundHandler((request: FastifyRequest, reply: FastifyReply) =>
    asksForScreen(request)
      ? reply.header('cache-control', 'no-cache').type('text/html; charset=utf-8').send(page)
      : refuseUnknownAddress(request),
  );
};
