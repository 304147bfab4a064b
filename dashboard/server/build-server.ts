// The web server, put together: routes over a running lab, problems, headers, the live stream, the screens.
// It opens no connection and listens nowhere; cli does.

import { randomBytes } from 'node:crypto';
import fastifyCompress from '@fastify/compress';
import fastifyCookie from '@fastify/cookie';
import type { TypeBoxTypeProvider } from '@fastify/type-provider-typebox';
import Fastify, { type FastifyInstance } from 'fastify';
import type { App } from './base/app.ts';
import { limitConnections } from './base/connection-room.ts';
import { connectionTimes } from './base/connection-times.ts';
import { figureTurns } from './base/figure-turns.ts';
import { openAudit } from './context/audit.ts';
import { listChanges } from './context/audit-change.ts';
import { apiPage } from './api-page.ts';
import { idempotency } from './idempotency.ts';
import { jsonBodies } from './json-bodies.ts';
import { lazySerializers, lazyValidators } from './lazy-compilers.ts';
import { liveFeed } from './live/live-feed.ts';
import { openApi } from './open-api.ts';
import { ProblemBody } from './base/problem.ts';
import { problemHandler } from './problem-handler.ts';
import { ROUTES } from './routes/all-routes.ts';
import { wallLinkDoor } from './routes/people/access-keys.ts';
import { requestLog } from './request-log.ts';
import type { RunningLab } from '../queries/running-lab.ts';
import { paperThread } from '../reports/paper/paper-thread.ts';
import { headersOfEveryAnswer, securityHeaders } from './base/security-headers.ts';
import type { ServerContext, ServerOptions } from './context/server-context.ts';
import { guard } from './sign-in/guard.ts';
import { identify } from './sign-in/identify.ts';
import { refuseForeignHost, refuseForeignOrigin, refuseUnclearHost } from './sign-in/origin.ts';
import { sayToReader } from './sign-in/reader.ts';
import { openSignIn } from './sign-in/sign-in.ts';
import { staticFiles } from './static-files.ts';
import { limitUnanswered } from './base/unanswered-requests.ts';
import { answerUnreadable } from './unreadable-request.ts';
import { alarmView } from './views/alarm-view.ts';
import { hostNamesNow } from './views/host-names-now.ts';
import { probeView } from './views/probe-view.ts';
import { stationLive } from './views/station-view.ts';

/** A body is a form's worth of text; the lab file alone may be larger. */
const BODY_LIMIT_BYTES = 64 * 1024;
/** From the connection to the end of the TLS handshake. */
const HANDSHAKE_MILLIS = 10_000;

const contextOf = (running: RunningLab, options: ServerOptions): ServerContext => ({
  running,
  options,
  signIn: openSignIn(running, options.database, options.passwordCost),
  audit: openAudit(options.database, running.now),
  makePaper: paperThread(),
  takeTurn: figureTurns(),
  feed: liveFeed(
    running,
    {
      station: (status) => stationLive(running, status),
      alarm: (alarm, reader) => alarmView(running, options.alarmWords, alarm, reader),
      probe: (id) => probeView(running, id),
    },
    randomBytes(6).toString('hex'),
  ),
});

export const buildServer = (running: RunningLab, options: ServerOptions): FastifyInstance => {
  const headers = headersOfEveryAnswer(options.insistOnHttps ?? false);
  const { http: httpTimes, ...times } = connectionTimes(options.requestSeconds);
  // A request without a host is refused with the others, in their form.
  const http = { ...httpTimes, requireHostHeader: false };
  const answerProblem = problemHandler((request) => sayToReader(request, running));
  const app: App = Fastify({
    logger: options.log === undefined ? false : requestLog(options.log),
    bodyLimit: BODY_LIMIT_BYTES,
    ...times,
    http,
    trustProxy: options.trustedProxies === undefined ? false : [...options.trustedProxies],
    ...(options.tls !== undefined && {
      https: { ...http, key: options.tls.key, cert: options.tls.cert, handshakeTimeout: HANDSHAKE_MILLIS },
    }),
    routerOptions: { maxParamLength: 300 },
    // An address that cannot be read is refused before any hook runs.
    frameworkErrors: (error, request, reply) => answerProblem(error, request, reply.headers(headers)),
    clientErrorHandler: (error, socket) => {
      // In the middle of an answer nothing can be said; the other side may be gone.
      if (!socket.writable || isAnswering(socket)) socket.destroy();
      else answerUnreadable(error, socket, headers);
    },
    schemaController: { compilersFactory: { buildSerializer: lazySerializers } },
  }).withTypeProvider<TypeBoxTypeProvider>();
  limitConnections(app.server, options.trustedProxies ?? []);
  // Lines beyond a number would be left out unseen, a second host among them; their size is limited anyway.
  app.server.maxHeadersCount = 0;
  // What else a client expects may be ignored (RFC 9110, 10.1.1); left to itself it is refused without our headers.
  app.server.on('checkExpectation', (request, response) => app.server.emit('request', request, response));
  const context = contextOf(running, options);

  app.setValidatorCompiler(lazyValidators);
  app.setErrorHandler(answerProblem);
  const isAnswering = limitUnanswered(app);
  jsonBodies(app);
  securityHeaders(app, headers);
  const names = (): readonly string[] =>
    [...hostNamesNow(running, options), ...(options.loopback ? [] : (options.machineNames ?? []))].map(
      (name) => name.toLowerCase(),
    );
  app.addHook('onRequest', async (request) => {
    refuseUnclearHost(request);
    refuseForeignHost(request, options.loopback, names());
    refuseForeignOrigin(request);
  });
  app.register(fastifyCookie);
  app.register(fastifyCompress, { globalDecompression: false });
  // After the cookies: the door reads them.
  app.after(() => {
    const isOpenDemo = running.demo && options.loopback;
    guard(
      app,
      identify(running, context.signIn, options.loopback),
      // People of a demonstration have no password to type again.
      isOpenDemo ? () => true : context.signIn.sessions.hasConfirmed,
    );
    wallLinkDoor(app, context);
    idempotency(app, options.database, running.now);
  });
  app.addSchema(ProblemBody);
  listChanges(app);
  openApi(app, running.version);
  app.register(async (scope) => {
    for (const routes of ROUTES) routes(scope as App, context);
    apiPage(scope as App);
  });
  staticFiles(app, options.webRoot);
  app.addHook('preClose', async () => context.feed.close());
  // Routes are typed by their schemas inside; whoever listens needs none of that.
  return app as unknown as FastifyInstance;
};
