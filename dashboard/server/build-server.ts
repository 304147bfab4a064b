// The web server, put together: routes over a running lab, problems, headers, the live stream, the screens.
// It opens no connection and listens nowhere; cli does.

import { randomBytes } from 'node:crypto';
import fastifyCompress from '@fastify/compress';
import fastifyCookie from '@fastify/cookie';
import { type TypeBoxTypeProvider, TypeBoxValidatorCompiler } from '@fastify/type-provider-typebox';
import Fastify, { type FastifyInstance } from 'fastify';
import type { App } from './app.ts';
import { jsonBodies } from './json-bodies.ts';
import { liveFeed } from './live/live-feed.ts';
import { handleError } from './problem-handler.ts';
import { alarmActRoutes } from './routes/alarm-acts.ts';
import { alarmRoutes } from './routes/alarms.ts';
import { healthRoutes } from './routes/health.ts';
import { liveRoutes } from './routes/live.ts';
import { probeRoutes } from './routes/probes.ts';
import { quarantineRoutes } from './routes/quarantine.ts';
import { stationRoutes } from './routes/stations.ts';
import type { RunningLab } from './running-lab.ts';
import { securityHeaders } from './security-headers.ts';
import type { ServerContext, ServerOptions } from './server-context.ts';
import { guard } from './sign-in/guard.ts';
import { staticFiles } from './static-files.ts';
import { alarmView } from './views/alarm-view.ts';
import { probeView } from './views/probe-view.ts';
import { stationLives } from './views/station-view.ts';

/** A body is a form's worth of text; the lab file alone may be larger. */
const BODY_LIMIT_BYTES = 64 * 1024;
const REQUEST_SECONDS = 30;

const ROUTES: readonly ((app: App, context: ServerContext) => void)[] = [
  healthRoutes,
  stationRoutes,
  probeRoutes,
  quarantineRoutes,
  alarmRoutes,
  alarmActRoutes,
  liveRoutes,
];

const contextOf = (running: RunningLab, options: ServerOptions): ServerContext => ({
  running,
  options,
  feed: liveFeed(
    running,
    {
      stations: (ids) => stationLives(running, ids),
      alarm: (alarm, language) => alarmView(running, options.alarmWords, alarm, language),
      probe: (id) => probeView(running, id),
    },
    randomBytes(6).toString('hex'),
  ),
});

export const buildServer = (running: RunningLab, options: ServerOptions): FastifyInstance => {
  const requestMillis = (options.requestSeconds ?? REQUEST_SECONDS) * 1000;
  const app: App = Fastify({
    logger: options.log ?? false,
    bodyLimit: BODY_LIMIT_BYTES,
    requestTimeout: requestMillis,
    routerOptions: { maxParamLength: 300 },
    http: {
      headersTimeout: requestMillis,
      connectionsCheckingInterval: Math.min(requestMillis / 2, 5000),
    },
  }).withTypeProvider<TypeBoxTypeProvider>();
  const context = contextOf(running, options);

  app.setValidatorCompiler(TypeBoxValidatorCompiler);
  app.setErrorHandler(handleError);
  jsonBodies(app);
  securityHeaders(app);
  guard(app, () =>
    running.demo
      ? { actor: { kind: 'demo-visitor' }, stillWelcome: () => true }
      : { actor: { kind: 'nobody' }, stillWelcome: () => false },
  );
  app.register(fastifyCookie);
  app.register(fastifyCompress, { globalDecompression: false });
  app.register(async (scope) => {
    for (const routes of ROUTES) routes(scope as App, context);
  });
  staticFiles(app, options.webRoot);
  app.addHook('preClose', async () => context.feed.close());
  // Routes are typed by their schemas inside; whoever listens needs none of that.
  return app as unknown as FastifyInstance;
};
