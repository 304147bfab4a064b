// Names of sites, gateways and probes as they are in topics, series and addresses.

import { createHash } from 'node:crypto';
import { failure, type Result, success } from '../../wax/result.ts';

const IDENTIFIER_LENGTH = 64;
/** In an address `.` and `..` lead to another place, so what bore such a name could be neither opened nor set up. */
const IDENTIFIER = /^(?!\.{1,2}$)[A-Za-z0-9._-]+$/;

const checkIdentifier =
  (code: 'probe-id' | 'gateway-id') =>
  (id: string): Result<string> =>
    id.length <= IDENTIFIER_LENGTH && IDENTIFIER.test(id) ? success(id) : failure(code, {}, id);

export const probeId = checkIdentifier('probe-id');
export const gatewayId = checkIdentifier('gateway-id');

const OTHER_SIGNS = /[^A-Za-z0-9._-]+/g;
const DIGEST_LENGTH = 6;

/** By which a whole name differs from others that would read alike. */
export const nameDigest = (name: string): string =>
  createHash('sha256').update(name).digest('hex').slice(0, DIGEST_LENGTH);

/**
 * A name that may hold any letter as an identifier. In other scripts two names could become one, so they end in a digest.
 * @example idOfName('Wax room 1') // 'Wax-room-1'
 */
export const idOfName = (name: string): string => {
  const id = name.trim().replaceAll(OTHER_SIGNS, '-');
  if (/[A-Za-z]/.test(id) || !/\p{L}/u.test(name)) return id;
  return [...id.split('-'), nameDigest(name)].filter((part) => part !== '').join('-');
};
