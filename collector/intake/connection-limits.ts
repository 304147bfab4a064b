// How many connections the embedded broker holds: in all, from one address, and without a sign-in. Pure bookkeeping.

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
  ...{ inAll: 500, fromOneAddress: 100, unsigned: 64 },
  unsignedFromOneAddress: 32,
};

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
      const same = [...addresses].flatMap(([opened, used]) => (used === address ? [opened] : []));
      const isFull =
        addresses.size >= limits.inAll ||
        same.length >= limits.fromOneAddress ||
        unsigned.size >= limits.unsigned ||
        same.filter((opened) => unsigned.has(opened)).length >= limits.unsignedFromOneAddress;
      if (isFull) return false;
      addresses.set(connection, address);
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
