// The plain HTTP server beside HTTPS: it hands out the authority's certificate with its page, and sends everything
// else to the secure address. It serves no figure of the lab and takes no act.

import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import { limitConnections } from '../base/connection-room.ts';
import { languageOf } from '../base/language.ts';
import type { Authority } from './authority.ts';
import { AUTHORITY_PAGE_POLICY, authorityPage } from './authority-page.ts';

export interface PlainServer {
  readonly address: string;
  readonly close: () => Promise<void>;
}

interface PlainServerOptions {
  readonly host: string;
  readonly port: number;
  /** Port of the secure server. */
  readonly securePort: number;
  /** Null with a certificate that devices trust already. */
  readonly authority: Authority | null;
}

const SECONDS = 10;

/** Only what can be in a host header; anything else could lead a browser elsewhere. */
const hostOf = (request: IncomingMessage): string | null =>
  /^(\[[0-9a-fA-F:.]+\]|[A-Za-z0-9.-]+)(?::\d{1,5})?$/.exec(request.headers.host ?? '')?.[1] ?? null;

export async function openPlainServer({
  authority,
  host,
  port,
  securePort,
}: PlainServerOptions): Promise<PlainServer> {
  const answer = (request: IncomingMessage, response: ServerResponse): void => {
    response.setHeader('x-content-type-options', 'nosniff');
    response.setHeader('cache-control', 'no-store');
    const name = hostOf(request);
    if (name === null || (request.method !== 'GET' && request.method !== 'HEAD')) {
      // A changed request has already sent its secret in the clear.
      response.writeHead(name === null ? 400 : 403).end();
      return;
    }
    const secure = `https://${name}${securePort === 443 ? '' : `:${securePort}`}`;
    const path = (request.url ?? '/').startsWith('/') ? (request.url ?? '/') : '/';
    const file = path.split('?')[0];
    if (authority !== null && file === '/authority.crt')
      response.writeHead(200, CERTIFICATE_HEADERS).end(authority.certificate);
    else if (authority !== null && file === '/authority') {
      const language = languageOf(undefined, request.headers['accept-language']);
      response.writeHead(200, PAGE_HEADERS).end(authorityPage(authority, language, `${secure}/`));
    } else response.writeHead(authority === null ? 308 : 307, { location: `${secure}${path}` }).end();
  };
  const server = createServer({ requestTimeout: SECONDS * 1000, headersTimeout: SECONDS * 1000 }, answer);
  limitConnections(server, []);
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, host, () => {
      server.off('error', reject);
      resolve();
    });
  });
  const at = server.address();
  const shown = host.includes(':') ? `[${host}]` : host;
  return {
    address: `http://${shown}:${at === null || typeof at === 'string' ? port : at.port}`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

export const CERTIFICATE_HEADERS = {
  'content-type': 'application/x-x509-ca-cert',
  'content-disposition': 'attachment; filename="waxwarden-authority.crt"',
} as const;
export const PAGE_HEADERS = {
  'content-type': 'text/html; charset=utf-8',
  'content-security-policy': AUTHORITY_PAGE_POLICY,
} as const;
