// The settings of HTTPS and of a proxy before us. A wrong one is refused with its name.

import { isIP } from 'node:net';
import type { HttpsSetting } from '../../dashboard/server/https/https-service.ts';
import { type Result, success } from '../../wax/result.ts';

export interface HttpsSettings {
  readonly https: HttpsSetting | null;
  /** Port of the plain HTTP server beside HTTPS. */
  readonly httpPort: number;
  /** Addresses of proxies that are trusted about host, scheme and client; empty: no proxy. */
  readonly behindProxy: readonly string[];
}

export const HTTPS_ROWS = {
  https: {
    env: 'WAXWARDEN_HTTPS',
    shape: '',
    fallback: '',
    help: 'serve HTTPS under an authority of the lab’s own, which each phone must be set to trust (docs/https.md)',
  },
  'https-cert': {
    env: 'WAXWARDEN_HTTPS_CERT',
    shape: 'FILE',
    fallback: '',
    help: 'serve HTTPS with a certificate of yours (PEM, with those above it); read again when it is renewed',
  },
  'https-key': {
    env: 'WAXWARDEN_HTTPS_KEY',
    shape: 'FILE',
    fallback: '',
    help: 'the key of that certificate (PEM)',
  },
  'http-port': {
    env: 'WAXWARDEN_HTTP_PORT',
    shape: 'N',
    fallback: '8461',
    help: 'with HTTPS: port of plain HTTP, which leads to HTTPS and hands out the authority’s certificate; 0 takes a free one',
  },
  'behind-proxy': {
    env: 'WAXWARDEN_BEHIND_PROXY',
    shape: 'ADDRESS,ADDRESS',
    fallback: '',
    help: 'addresses (or ranges such as 10.0.0.0/8) of proxies whose X-Forwarded headers are believed; name the host with --host-names',
  },
} as const;

export type HttpsSettingName = keyof typeof HTTPS_ROWS;
type Wrong = (name: HttpsSettingName, expected: string, value: string) => Result<never>;

/** @example commaSeparated('a, b,') // ['a', 'b'] */
export const commaSeparated = (text: string): readonly string[] =>
  text
    .split(',')
    .map((part) => part.trim())
    .filter((part) => part !== '');

const isAddress = (text: string): boolean => {
  const [address = '', bits, ...more] = text.split('/');
  const family = isIP(address);
  if (family === 0 || more.length > 0) return false;
  // A range of everybody would let anybody claim where they come from.
  return (
    bits === undefined ||
    (/^\d{1,3}$/.test(bits) && Number(bits) >= 1 && Number(bits) <= (family === 4 ? 32 : 128))
  );
};

export function httpsSettings(
  text: (name: HttpsSettingName) => string,
  port: (text: string) => Result<number>,
  wrong: Wrong,
): Result<HttpsSettings> {
  const [flag, cert, key] = [text('https'), text('https-cert'), text('https-key')];
  if (!['', 'true', 'false'].includes(flag)) return wrong('https', 'switch', flag);
  if (cert !== '' && key === '') return wrong('https-key', 'key_file', '');
  if (key !== '' && cert === '') return wrong('https-cert', 'certificate_file', '');
  const httpPort = port(text('http-port'));
  if (!httpPort.ok) return httpPort;
  const behindProxy = commaSeparated(text('behind-proxy'));
  const strange = behindProxy.find((proxy) => !isAddress(proxy));
  if (strange !== undefined) return wrong('behind-proxy', 'proxy', strange);
  const https: HttpsSetting | null =
    cert !== '' ? { kind: 'files', cert, key } : flag === 'true' ? { kind: 'authority' } : null;
  return success({ https, httpPort: httpPort.value, behindProxy });
}
