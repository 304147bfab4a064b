// How many connections the embedded broker holds: in all, from one address, and without a sign-in. Pure bookkeeping.

import { isIPv6 } from 'node:net';

export interface ConnectionLimits {
  readonly inAll: number;
  readonly fromOneAddress: number;
  /** Of those that have not signed in yet. */
  readonly unsigned: number;
  /** Fewer than that, so that silent connections of one device keep nobody else out. */
  readonly unsignedFromOneAddress: number;
}

/** A lab of one room has a dozen gateways; beyond them a broker of its own is the right place. */
export const CONNECTION_LIMITS: ConnectionLimits = {
  inAll: 500,
  fromOneAddress: 100,
  unsigned: 64,
  unsignedFromOneAddress: 32,
};

/**
 * What stands for one sender: an address of IPv4, or the network of one of IPv6, within which a device may give itself as
 * many addresses as it likes (RFC 4291, 2.5.4: the first 64 bits).
 * @example senderOf('2001:db8::7') // '2001:db8:0:0'
 */
function senderOf(address: string): string {
  const plain = address.replace(/^::ffff:(?=[\d.]+$)/i, '');
  if (!isIPv6(plain)) return plain;
  const [left = [], right = []] = plain
    .split('::')
    .map((half) => half.split(':').filter((group) => group !== ''));
  const between = Array<string>(8 - left.length - right.length).fill('0');
  return [...left, ...between, ...right].slice(0, 4).join(':');
}

export interface ConnectionCounts {
  /** False when there is no room; the connection is then not counted. */
  readonly open: (connection: object, address: string) => boolean;
  readonly signedIn: (connection: object) => void;
  readonly closed: (connection: object) => void;
}

export function connectionCounts(limits: ConnectionLimits = CONNECTION_LIMITS): ConnectionCounts {
  const addresses = new Map<object, string>();
  const unsigned = new Set<object>();
  return {
    open: (connection, address) => {
      const sender = senderOf(address);
      const same = [...addresses].flatMap(([opened, used]) => (used === sender ? [opened] : []));
      const isFull =
        addresses.size >= limits.inAll ||
        same.length >= limits.fromOneAddress ||
        unsigned.size >= limits.unsigned ||
        same.filter((opened) => unsigned.has(opened)).length >= limits.unsignedFromOneAddress;
      if (isFull) return false;
      addresses.set(connection, sender);
      unsigned.add(connection);
      return true;
    },
    signedIn: (connection) => {
      unsigned.delete(connection);
    },
    closed: (connection) => {
      addresses.delete(connection);
      unsigned.delete(connection);
    },
  };
}
