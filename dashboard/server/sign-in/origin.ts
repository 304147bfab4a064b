// Requests that a foreign page makes in a person's browser: refused before anything is looked at. A name that was
// pointed at this machine (DNS rebinding) is refused by its Host header, a foreign form or script by its origin.

import { isIP } from 'node:net';
import type { FastifyRequest } from 'fastify';
import { HttpProblem } from '../base/problem.ts';

const READS: ReadonlySet<string> = new Set(['GET', 'HEAD', 'OPTIONS']);

const isLoopbackName = (hostname: string): boolean =>
  hostname === 'localhost' ||
  hostname.endsWith('.localhost') ||
  hostname === '[::1]' ||
  /^127\.\d{1,3}\.\d{1,3}\.\d{1,3}$/.test(hostname);

/** An address that is typed as digits cannot be pointed elsewhere by a name server. */
const isAddress = (hostname: string): boolean => isIP(hostname.replace(/^\[(.*)\]$/, '$1')) !== 0;

/**
 * `names` are those of the machine and those that the lab gave. This machine's own address is always answered, so that
 * a health check on it works whatever is set; a server on loopback answers to nothing else without names.
 */
export const refuseForeignHost = (
  request: FastifyRequest,
  loopback: boolean,
  names: readonly string[],
): void => {
  const hostname = request.hostname.toLowerCase();
  if (isLoopbackName(hostname) || names.includes(hostname) || (!loopback && isAddress(hostname))) return;
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
