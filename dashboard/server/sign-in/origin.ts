// Requests that a foreign page makes in a person's browser: refused before anything is looked at. A name that was
// pointed at this machine (DNS rebinding) is refused by its Host header, a foreign form or script by its origin.

import type { FastifyRequest } from 'fastify';
import { HttpProblem } from '../base/problem.ts';

const READS: ReadonlySet<string> = new Set(['GET', 'HEAD', 'OPTIONS']);

const isLoopbackName = (hostname: string): boolean =>
  hostname === 'localhost' ||
  hostname.endsWith('.localhost') ||
  hostname === '[::1]' ||
  /^127\.\d{1,3}\.\d{1,3}\.\d{1,3}$/.test(hostname);

/** `names` are those that the lab gave the server; without any, a server on loopback answers to loopback alone. */
export const refuseForeignHost = (
  request: FastifyRequest,
  loopback: boolean,
  names: readonly string[],
): void => {
  const hostname = request.hostname.toLowerCase();
  const isOpen = !loopback && names.length === 0;
  if (isOpen || names.includes(hostname) || (loopback && isLoopbackName(hostname))) return;
  throw new HttpProblem('foreign-host');
};

const hostOf = (origin: string): string | null => (URL.canParse(origin) ? new URL(origin).host : null);

/** Browsers name the origin of every change; programs name none and carry no cookie. */
export const refuseForeignOrigin = (request: FastifyRequest): void => {
  if (READS.has(request.method)) return;
  const { origin, 'sec-fetch-site': site } = request.headers;
  const isForeign = origin !== undefined && hostOf(origin) !== request.host;
  const isForeignSite = site !== undefined && site !== 'same-origin' && site !== 'none';
  if (isForeign || isForeignSite) throw new HttpProblem('foreign-origin');
};
