// The two cookies: a person's session and a wall's link. Over HTTPS their names begin with `__Host-`, which a
// browser accepts only from this very host with Secure. Over plain HTTP a browser would refuse that, so there the
// names go without and whoever can read the network can read them: fine on loopback, else HTTPS is needed.

import type { FastifyReply, FastifyRequest } from 'fastify';
import { ABSOLUTE_MILLIS } from './sessions.ts';

const NAMES = { session: 'waxwarden', wall: 'waxwarden-wall' } as const;
export type CookieKind = keyof typeof NAMES;

const SECONDS: Readonly<Record<CookieKind, number>> = {
  session: ABSOLUTE_MILLIS / 1000,
  // The longest that browsers keep a cookie (RFC 6265bis: 400 days); set anew each time the wall is opened.
  wall: 400 * 86_400,
};

const nameFor = (request: FastifyRequest, kind: CookieKind): string =>
  request.protocol === 'https' ? `__Host-${NAMES[kind]}` : NAMES[kind];

const attributes = (request: FastifyRequest) => ({
  path: '/',
  httpOnly: true,
  sameSite: 'strict' as const,
  secure: request.protocol === 'https',
});

export const cookieOf = (request: FastifyRequest, kind: CookieKind): string | undefined =>
  request.cookies[nameFor(request, kind)];

export const setCookie = (
  request: FastifyRequest,
  reply: FastifyReply,
  kind: CookieKind,
  secret: string,
): void => {
  reply.setCookie(nameFor(request, kind), secret, { ...attributes(request), maxAge: SECONDS[kind] });
};

export const clearCookie = (request: FastifyRequest, reply: FastifyReply, kind: CookieKind): void => {
  reply.clearCookie(nameFor(request, kind), attributes(request));
};
