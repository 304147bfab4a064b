// The screen of the group: a few documents, a stream that says when something was reported, sign-in by key. It only
// reads; what is done about an alarm is done in the lab.

import Fastify, { type FastifyInstance, type FastifyReply, type FastifyRequest } from 'fastify';
import type pg from 'pg';
import { languageOf } from '../dashboard/server/base/language.ts';
import { securityHeaders } from '../dashboard/server/base/security-headers.ts';
import { SCRIPT, STYLE } from './assets.ts';
import type { Changes } from './changes.ts';
import { byNeed, labNeed } from './lab-need.ts';
import { labFigures, labStanding, reportedLabs } from './overview.ts';
import {
  awayPage,
  comparePage,
  labPage,
  labsPage,
  labsPart,
  signInPage,
  unknownLabPage,
  wholePage,
} from './page.ts';
import { signedIn, signIn, signOut } from './people.ts';

export interface GroupServerParts {
  readonly pool: pg.Pool;
  readonly changes: Changes;
  readonly now: () => number;
}

const COOKIE = 'group_session';
const OPEN = new Set(['/sign-in', '/group.css', '/group.js', '/health']);
/** Counting a week of all labs takes a moment; figures of a week do not change within one minute. */
const FIGURES_MILLIS = 60_000;
const BODY_BYTES = 4096;

const tokenOf = ({ headers }: FastifyRequest): string =>
  (headers.cookie ?? '')
    .split(';')
    .map((part) => part.trim())
    .find((part) => part.startsWith(`${COOKIE}=`))
    ?.slice(COOKIE.length + 1) ?? '';

const cookie = (request: FastifyRequest, token: string, seconds: number): string =>
  `${COOKIE}=${token}; Path=/; HttpOnly; SameSite=Strict; Max-Age=${seconds}${request.protocol === 'https' ? '; Secure' : ''}`;

const SESSION_SECONDS = 12 * 3600;

/** Another site must not sign anybody in or out. */
const isOwnOrigin = ({ headers }: FastifyRequest): boolean =>
  headers.origin === undefined ||
  (URL.canParse(headers.origin) && new URL(headers.origin).host === headers.host);

const speaks = ({ headers }: FastifyRequest): string => languageOf(undefined, headers['accept-language']);

const html = (reply: FastifyReply, text: string): FastifyReply =>
  reply.type('text/html; charset=utf-8').header('cache-control', 'no-store').send(text);

export function buildGroupServer({ pool, changes, now }: GroupServerParts): FastifyInstance {
  const app = Fastify({ bodyLimit: BODY_BYTES, trustProxy: 'loopback', forceCloseConnections: true });
  securityHeaders(app as never, false);
  app.addContentTypeParser(
    'application/x-www-form-urlencoded',
    { parseAs: 'string' },
    (_request, body, done) => done(null, Object.fromEntries(new URLSearchParams(String(body)))),
  );
  const people = new WeakMap<FastifyRequest, string>();
  const page = (request: FastifyRequest, reply: FastifyReply, main: string): FastifyReply =>
    html(reply, wholePage(main, speaks(request), people.get(request) ?? null));

  app.addHook('onRequest', async (request, reply) => {
    if (request.method === 'POST' && !isOwnOrigin(request)) return reply.code(403).send();
    const path = request.url.split('?')[0] ?? '';
    if (OPEN.has(path)) return;
    const person = await signedIn(pool, tokenOf(request));
    if (person !== null) people.set(request, person);
    else if (path === '/labs' || path === '/live') return reply.code(401).send();
    else return reply.redirect('/sign-in');
  });

  app.setErrorHandler((error: Error & { readonly statusCode?: number }, request, reply) => {
    if (error.statusCode !== undefined && error.statusCode < 500)
      return reply.code(error.statusCode).send({ statusCode: error.statusCode });
    // Nothing inner is shown; the page is tried again by itself.
    return page(request, reply.code(503).header('refresh', '30'), awayPage(speaks(request)));
  });
  signInRoutes(app, pool, page);
  const labs = async () => byNeed(await reportedLabs(pool), now());
  app.get('/', async (request, reply) => page(request, reply, labsPage(await labs(), speaks(request))));
  app.get('/labs', async (request, reply) => html(reply, labsPart(await labs(), speaks(request))));
  app.get<{ Params: { site: string } }>('/lab/:site', async (request, reply) => {
    const found = await labStanding(pool, request.params.site);
    const reported = (await reportedLabs(pool)).find(({ site }) => site === request.params.site);
    if (found === null || reported === undefined)
      return page(request, reply.code(404), unknownLabPage(speaks(request)));
    return page(request, reply, labPage(found, labNeed(reported, now()), speaks(request)));
  });
  let figures: { readonly at: number; readonly value: ReturnType<typeof labFigures> } | null = null;
  app.get('/compare', async (request, reply) => {
    if (figures === null || now() - figures.at > FIGURES_MILLIS) {
      figures = { at: now(), value: labFigures(pool, now()) };
      figures.value.catch(() => {
        figures = null;
      });
    }
    return page(request, reply, comparePage(await figures.value, speaks(request)));
  });
  app.get('/live', (request, reply) => {
    reply.hijack();
    const { raw } = reply;
    raw.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store' });
    raw.write(': open\n\n');
    const end = changes.subscribe(() => raw.write('data: \n\n'));
    request.raw.on('close', end);
  });
  app.get('/group.css', (_request, reply) => reply.type('text/css; charset=utf-8').send(STYLE));
  app.get('/group.js', (_request, reply) => reply.type('text/javascript; charset=utf-8').send(SCRIPT));
  app.get('/health', async (_request, reply) => {
    try {
      await pool.query('SELECT 1');
      return { ok: true };
    } catch {
      return reply.code(503).send({ ok: false });
    }
  });
  return app;
}

function signInRoutes(
  app: FastifyInstance,
  pool: pg.Pool,
  page: (request: FastifyRequest, reply: FastifyReply, main: string) => FastifyReply,
): void {
  app.get('/sign-in', (request, reply) => page(request, reply, signInPage(speaks(request), false)));
  app.post<{ Body: { key?: string } | undefined }>('/sign-in', async (request, reply) => {
    const token = await signIn(pool, (request.body?.key ?? '').trim());
    if (token === null) return page(request, reply.code(401), signInPage(speaks(request), true));
    return reply.header('set-cookie', cookie(request, token, SESSION_SECONDS)).redirect('/', 303);
  });
  app.post('/sign-out', async (request, reply) => {
    await signOut(pool, tokenOf(request));
    return reply.header('set-cookie', cookie(request, '', 0)).redirect('/sign-in', 303);
  });
}
