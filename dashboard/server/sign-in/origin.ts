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
 * A host that is not named, named twice, or otherwise in the address than in its line, is refused (RFC 9112, 3.2): what
 * stands before the server could have judged by the other one.
 */
export const refuseUnclearHost = ({ raw }: FastifyRequest): void => {
  const lines = raw.rawHeaders.filter((text, index) => index % 2 === 0 && text.toLowerCase() === 'host');
  const [, named] = /^https?:\/\/([^/?#]*)/i.exec(raw.url ?? '') ?? [];
  const isOther = named !== undefined && named.toLowerCase() !== raw.headers.host?.toLowerCase();
  const isMissing = lines.length === 0 && raw.httpVersion === '1.1';
  if (isMissing || lines.length > 1 || isOther) throw new HttpProblem('unreadable-request');
};

/**
 * `names` are those of the machine and those that the lab gave. This machine's own address is always answered, so that
 * a health check on it works whatever is set; a server on loopback answers to nothing else without names.
 */
export const refuseForeignHost = (
  request: FastifyRequest,
  loopback: boolean,
  names: readonly string[],
): void => {
  // A name may end in the dot of the root (RFC 3986, 3.2.2).
  const hostname = request.hostname.toLowerCase().replace(/\.$/, '');
  if (isLoopbackName(hostname) || names.includes(hostname) || (!loopback && isAddress(hostname))) return;
  throw new HttpProblem('foreign-host');
};

/** A page that came in the clear may have been changed on the way; a proxy in front may add the encryption. */
const isOwnOrigin = (origin: string, { host, protocol }: FastifyRequest): boolean => {
  if (!URL.canParse(origin)) return false;
  const page = new URL(origin);
  return page.host === host && (protocol !== 'https' || page.protocol === 'https:');
};

/** Browsers name the origin of every change; programs name none and carry no cookie. */
export const refuseForeignOrigin = (request: FastifyRequest): void => {
  if (READS.has(request.method)) return;
  const { origin, 'sec-fetch-site': site } = request.headers;
  const isForeign = origin !== undefined && !isOwnOrigin(origin, request);
  const isForeignSite = site !== undefined && site !== 'same-origin' && site !== 'none';
  if (isForeign || isForeignSite) throw new HttpProblem('foreign-origin');
};
