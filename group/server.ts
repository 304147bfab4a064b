// The screen of the group: a few documents, a stream of when something was reported, sign-in, offers to labs.
// Else it only reads; what is done about an alarm is done in the lab.

import Fastify, { type FastifyInstance, type FastifyReply, type FastifyRequest } from 'fastify';
import type pg from 'pg';
import { limitConnections } from '../dashboard/server/base/connection-room.ts';
import { connectionTimes } from '../dashboard/server/base/connection-times.ts';
import { languageOf } from '../dashboard/server/base/language.ts';
import { headersOfEveryAnswer, securityHeaders } from '../dashboard/server/base/security-headers.ts';
import { limitUnanswered } from '../dashboard/server/base/unanswered-requests.ts';
import { SCRIPT, STYLE } from './assets.ts';
import type { Changes } from './changes.ts';
import { byNeed, labNeed } from './lab-need.ts';
import { labPage } from './lab-page.ts';
import { labFigures } from './compare.ts';
import { comparePage } from './compare-page.ts';
import { labStanding, reportedLabs } from './overview.ts';
import type { IdentityProvider } from './identity-provider.ts';
import { awayPage, labsPage, labsPart, unknownLabPage, wholePage } from './page.ts';
import { type GroupPerson, findSignedIn } from './people.ts';
import { recallAcross } from './recall.ts';
import { recallPage } from './recall-page.ts';
import { giveRoutes } from './server-give.ts';
import { liveRoute } from './server-live.ts';
import { OPEN_WAYS, signInRoutes, tokenOf } from './server-sign-in.ts';

export interface GroupServerParts {
  readonly pool: pg.Pool;
  readonly changes: Changes;
  readonly now: () => number;
  /** Null: people sign in by key only. */
  readonly provider: IdentityProvider | null;
  /** How long a request may take to arrive; for tests. */
  readonly requestSeconds?: number;
}

const OPEN = new Set([...OPEN_WAYS, '/group.css', '/group.js', '/health']);
/** Counting a week of all labs takes a moment; figures of a week do not change within one minute. */
const FIGURES_MILLIS = 60_000;
const BODY_BYTES = 4096;
/** Of what is typed into a search. */
const MOST_ASKED = 200;
/** A proxy for HTTPS on the same machine: it passes on where requests come from, and everybody comes through it. */
const PROXIES = ['127.0.0.0/8', '::1'];

/** Another site must not sign anybody in or out. */
const isOwnOrigin = ({ headers }: FastifyRequest): boolean =>
  headers.origin === undefined ||
  (URL.canParse(headers.origin) && new URL(headers.origin).host === headers.host);

const speaks = ({ headers }: FastifyRequest): string => languageOf(undefined, headers['accept-language']);

const html = (reply: FastifyReply, text: string): FastifyReply =>
  reply.type('text/html; charset=utf-8').header('cache-control', 'no-store').send(text);

export function buildGroupServer(parts: GroupServerParts): FastifyInstance {
  const { pool, changes, now, provider, requestSeconds } = parts;
  const app = Fastify({
    ...connectionTimes(requestSeconds),
    bodyLimit: BODY_BYTES,
    trustProxy: PROXIES,
    forceCloseConnections: true,
  });
  limitConnections(app.server, PROXIES);
  limitUnanswered(app as never);
  securityHeaders(app as never, headersOfEveryAnswer(false));
  // Without a referrer browsers send `Origin: null` with a form (Fetch, 3.2), and nobody could sign in by one.
  app.addHook('onRequest', async (_request, reply) => {
    reply.header('referrer-policy', 'same-origin');
  });
  app.addContentTypeParser(
    'application/x-www-form-urlencoded',
    { parseAs: 'string' },
    (_request, body, done) => done(null, Object.fromEntries(new URLSearchParams(String(body)))),
  );
  const people = new WeakMap<FastifyRequest, GroupPerson>();
  const page = (request: FastifyRequest, reply: FastifyReply, main: string): FastifyReply =>
    html(reply, wholePage(main, speaks(request), people.get(request)?.name ?? null));
  const isShownTo =
    (request: FastifyRequest) =>
    ({ site }: { readonly site: string }): boolean => {
      const person = people.get(request);
      return person !== undefined && (person.site === null || person.site === site);
    };

  app.addHook('onRequest', async (request, reply) => {
    if (request.method === 'POST' && !isOwnOrigin(request)) return reply.code(403).send();
    const path = request.url.split('?')[0] ?? '';
    if (OPEN.has(path)) return;
    const person = await findSignedIn(pool, tokenOf(request));
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
  signInRoutes(app, { pool, provider, page, language: speaks });
  const labs = async (request: FastifyRequest) =>
    byNeed((await reportedLabs(pool)).filter(isShownTo(request)), now());
  app.get('/', async (request, reply) =>
    page(request, reply, labsPage(await labs(request), speaks(request))),
  );
  app.get('/labs', async (request, reply) => html(reply, labsPart(await labs(request), speaks(request))));
  app.get<{ Params: { site: string } }>('/lab/:site', async (request, reply) => {
    const found = isShownTo(request)(request.params) ? await labStanding(pool, request.params.site) : null;
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
    return page(
      request,
      reply,
      comparePage((await figures.value).filter(isShownTo(request)), speaks(request)),
    );
  });
  app.get<{ Querystring: { lot?: string | string[] } }>('/recall', async (request, reply) => {
    const text = [request.query.lot ?? ''].flat().join(' ').trim().slice(0, MOST_ASKED);
    const person = people.get(request);
    if (text === '' || person === undefined)
      return page(request, reply, recallPage('', null, speaks(request)));
    const found = await recallAcross(pool, text, person.site);
    return page(request, reply, recallPage(text, found, speaks(request)));
  });
  giveRoutes(app, { pool, now, page, language: speaks, person: (request) => people.get(request) });
  liveRoute(app, changes, (request) => people.get(request)?.name ?? null);
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
