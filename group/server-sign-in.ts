// How somebody comes in and out of the group's screen: by key, or by the account of an identity provider. A session is a
// cookie that scripts cannot read and other sites cannot send.

import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type pg from 'pg';
import { type IdentityProvider, PROVIDER_RETURN } from './identity-provider.ts';
import { type SignInTrouble, signedInPage, signInPage } from './page.ts';
import { SESSION_HOURS, signIn, signInByEmail, signOut } from './people.ts';

const COOKIE = 'group_session';
/** What a sign-in by the provider brings back; sent along when another site leads here, and only below its own path. */
const BEGUN_COOKIE = 'group_sign_in';
const BEGUN_SECONDS = 600;
const PROVIDER = '/sign-in/provider';

/** Reached without a session. */
export const OPEN_WAYS: readonly string[] = ['/sign-in', PROVIDER, PROVIDER_RETURN];

const cookieOf = ({ headers }: FastifyRequest, name: string): string =>
  (headers.cookie ?? '')
    .split(';')
    .map((part) => part.trim())
    .find((part) => part.startsWith(`${name}=`))
    ?.slice(name.length + 1) ?? '';

export const tokenOf = (request: FastifyRequest): string => cookieOf(request, COOKIE);

const secure = ({ protocol }: FastifyRequest): string => (protocol === 'https' ? '; Secure' : '');
const sessionCookie = (request: FastifyRequest, token: string, seconds: number): string =>
  `${COOKIE}=${token}; Path=/; HttpOnly; SameSite=Strict; Max-Age=${seconds}${secure(request)}`;
const begunCookie = (request: FastifyRequest, begun: string, seconds: number): string =>
  `${BEGUN_COOKIE}=${begun}; Path=${PROVIDER}; HttpOnly; SameSite=Lax; Max-Age=${seconds}${secure(request)}`;

export interface SignInParts {
  readonly pool: pg.Pool;
  readonly provider: IdentityProvider | null;
  readonly page: (request: FastifyRequest, reply: FastifyReply, main: string) => FastifyReply;
  readonly language: (request: FastifyRequest) => string;
}

export function signInRoutes(app: FastifyInstance, parts: SignInParts): void {
  const { pool, provider, page, language } = parts;
  const askAgain = (request: FastifyRequest, reply: FastifyReply, trouble: SignInTrouble | null) =>
    page(request, reply, signInPage(language(request), provider !== null, trouble));
  app.get('/sign-in', (request, reply) => askAgain(request, reply, null));
  app.post<{ Body: { key?: string } | undefined }>('/sign-in', async (request, reply) => {
    const token = await signIn(pool, (request.body?.key ?? '').trim());
    if (token === null) return askAgain(request, reply.code(401), 'key-wrong');
    return reply.header('set-cookie', sessionCookie(request, token, SESSION_HOURS * 3600)).redirect('/', 303);
  });
  app.post('/sign-out', async (request, reply) => {
    await signOut(pool, tokenOf(request));
    return reply.header('set-cookie', sessionCookie(request, '', 0)).redirect('/sign-in', 303);
  });
  if (provider !== null) providerRoutes(app, provider, parts, askAgain);
}

function providerRoutes(
  app: FastifyInstance,
  provider: IdentityProvider,
  { pool, page, language }: SignInParts,
  askAgain: (request: FastifyRequest, reply: FastifyReply, trouble: SignInTrouble) => FastifyReply,
): void {
  app.get(PROVIDER, async (request, reply) => {
    const begun = await provider.begin().catch(() => null);
    if (begun === null) return askAgain(request, reply.code(503), 'provider-away');
    return reply
      .header('cache-control', 'no-store')
      .header('set-cookie', begunCookie(request, begun.begun, BEGUN_SECONDS))
      .redirect(begun.url, 303);
  });
  app.get(PROVIDER_RETURN, async (request, reply) => {
    const search = request.url.slice(PROVIDER_RETURN.length);
    const email = await provider.finish(search, cookieOf(request, BEGUN_COOKIE)).catch(() => null);
    const token = email === null ? null : await signInByEmail(pool, email);
    const spent = begunCookie(request, '', 0);
    if (token === null)
      return askAgain(request, reply.code(401).header('set-cookie', spent), 'provider-refused');
    // A browser that the provider sent here sends no cookie of the session until a page of our own leads on.
    return page(
      request,
      reply
        .header('set-cookie', [spent, sessionCookie(request, token, SESSION_HOURS * 3600)])
        .header('refresh', '0; url=/'),
      signedInPage(language(request)),
    );
  });
}
