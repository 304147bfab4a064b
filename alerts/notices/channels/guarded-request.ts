// A POST to an address that people typed, which must not become a way into this machine or its network (server-side
// request forgery). The name is resolved here, every address behind it is checked, and the connection goes to the very
// address that was checked: a name that answers differently the second time gains nothing. No redirect is followed.

import { lookup as resolveName } from 'node:dns/promises';
import { request as plainRequest } from 'node:http';
import { request as secureRequest } from 'node:https';
import { BlockList, isIP } from 'node:net';

/** RFC 6890 and its updates, as IANA lists them: what is not on the public internet, and what clouds answer secrets on. */
const CLOSED = new BlockList();
for (const [network, bits] of [
  ['0.0.0.0', 8],
  ['10.0.0.0', 8],
  ['100.64.0.0', 10],
  ['127.0.0.0', 8],
  ['169.254.0.0', 16],
  ['172.16.0.0', 12],
  ['192.0.0.0', 24],
  // For documents, and the relay of 6to4.
  ['192.0.2.0', 24],
  ['192.88.99.0', 24],
  ['192.168.0.0', 16],
  ['198.18.0.0', 15],
  ['198.51.100.0', 24],
  ['203.0.113.0', 24],
  ['224.0.0.0', 3],
] as const)
  CLOSED.addSubnet(network, bits, 'ipv4');
for (const [network, bits] of [
  // With the forms that carry an IPv4 address: compatible, translated (SIIT, NAT64), 6to4.
  ['::', 96],
  ['::ffff:0:0:0', 96],
  ['64:ff9b::', 96],
  ['64:ff9b:1::', 48],
  // Discarded, for protocols (Teredo among them), for documents, for routers.
  ['100::', 64],
  ['2001::', 23],
  ['2001:db8::', 32],
  ['3fff::', 20],
  ['5f00::', 16],
  ['2002::', 16],
  ['fc00::', 7],
  ['fe80::', 10],
  ['fec0::', 10],
  ['ff00::', 8],
] as const)
  CLOSED.addSubnet(network, bits, 'ipv6');

/** An IPv4 address in the form of IPv6 (::ffff:a.b.c.d) is checked as what it is. */
export const isClosedAddress = (address: string): boolean => {
  const family = isIP(address);
  return family === 0 || CLOSED.check(address, family === 4 ? 'ipv4' : 'ipv6');
};

/** The address lies on this machine or its network, and the lab has not named it as allowed. */
export class ClosedAddress extends Error {
  readonly host: string;
  constructor(host: string) {
    super(`${host} lies on this machine or a network that is not public`);
    this.name = 'ClosedAddress';
    this.host = host;
  }
}

export interface GuardedAnswer {
  readonly status: number;
  readonly retryAfter: string | null;
}

export interface GuardedRequest {
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string;
  readonly timeoutMillis: number;
  /** Hosts, with or without port, that may be reached wherever they lie. */
  readonly allowedHosts: readonly string[];
  /** All addresses of a name. */
  readonly resolve?: (name: string) => Promise<readonly string[]>;
}

const byNameServer = async (name: string): Promise<readonly string[]> =>
  (await resolveName(name, { all: true, verbatim: true })).map(({ address }) => address);

/** A name server that never answers counts against the same time as the receiver. */
const inTime = <T>(answer: Promise<T>, signal: AbortSignal): Promise<T> =>
  Promise.race([
    answer,
    new Promise<never>((_, reject) =>
      signal.addEventListener('abort', () => reject(signal.reason), { once: true }),
    ),
  ]);

/** One address that may be reached: every one behind the name must be, or a name with two faces could choose. */
async function resolveAddress(
  { url, allowedHosts, resolve }: GuardedRequest,
  signal: AbortSignal,
): Promise<string> {
  const { hostname, host } = new URL(url);
  const name = hostname.replace(/^\[(.*)\]$/, '$1');
  const addresses = isIP(name) === 0 ? await inTime((resolve ?? byNameServer)(name), signal) : [name];
  const [first] = addresses;
  if (first === undefined) throw new Error(`${name} has no address`);
  const isAllowed = allowedHosts.includes(hostname) || allowedHosts.includes(host);
  if (!isAllowed && addresses.some(isClosedAddress)) throw new ClosedAddress(host);
  return first;
}

/** Rejects with `ClosedAddress`, or with the error of the network. */
export async function postGuarded(guarded: GuardedRequest): Promise<GuardedAnswer> {
  const signal = AbortSignal.timeout(guarded.timeoutMillis);
  const address = await resolveAddress(guarded, signal);
  const url = new URL(guarded.url);
  const request = url.protocol === 'https:' ? secureRequest : plainRequest;
  return new Promise((resolve, reject) => {
    const sent = request(
      url,
      {
        method: 'POST',
        // Connections are not shared: the next one is checked anew.
        agent: false,
        signal,
        headers: { ...guarded.headers, 'content-length': String(Buffer.byteLength(guarded.body)) },
        lookup: (_name, options, done) => {
          const family = isIP(address);
          if (options.all) done(null, [{ address, family }]);
          else done(null, address, family);
        },
      },
      (response) => {
        const { statusCode = 0, headers } = response;
        // What it answers besides its status is of no use here, and could be endless.
        response.destroy();
        resolve({ status: statusCode, retryAfter: headers['retry-after'] ?? null });
      },
    );
    sent.on('error', reject);
    sent.end(guarded.body);
  });
}
