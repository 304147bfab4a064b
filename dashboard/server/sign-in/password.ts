// Passwords: what is required of them and how they are kept. scrypt with N = 2^17, r = 8, p = 1 (OWASP Password
// Storage Cheat Sheet); 128 MiB each, so one at a time and with a bounded queue. Length over composition rules
// (NIST SP 800-63B).

import { randomBytes, scrypt, timingSafeEqual } from 'node:crypto';
import { HttpProblem } from '../base/problem.ts';
import { COMMON_PASSWORDS } from './common-passwords.ts';

export interface ScryptCost {
  readonly logN: number;
  readonly r: number;
  readonly p: number;
}
export const OWASP_COST: ScryptCost = { logN: 17, r: 8, p: 1 };
const KEY_BYTES = 32;
const SALT_BYTES = 16;
const MOST_WAITING = 20;
const SHORTEST_PASSWORD = 8;
const LONGEST_PASSWORD = 256;

const derive = (password: string, salt: Buffer, { logN, r, p }: ScryptCost): Promise<Buffer> =>
  new Promise((resolve, reject) => {
    // Node's default of 32 MiB refuses this cost; 128 N r bytes are needed, with some room.
    const options = { N: 2 ** logN, r, p, maxmem: 160 * 2 ** logN * r };
    scrypt(password.normalize('NFKC'), salt, KEY_BYTES, options, (error, key) =>
      error === null ? resolve(key) : reject(error),
    );
  });

export interface Passwords {
  readonly hash: (password: string) => Promise<string>;
  /** Costs the same whether the account exists (`stored` is null when not). */
  readonly matches: (password: string, stored: string | null) => Promise<boolean>;
}

/** Kept as `scrypt$logN$r$p$salt$key`, so that a later cost can be beside an earlier one. */
export const passwords = (cost: ScryptCost = OWASP_COST): Passwords => {
  let waiting = 0;
  let last: Promise<unknown> = Promise.resolve();
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    if (waiting >= MOST_WAITING)
      return Promise.reject(new HttpProblem('too-many-attempts', { headers: { 'retry-after': '10' } }));
    waiting += 1;
    const mine = last.then(work).finally(() => {
      waiting -= 1;
    });
    last = mine.catch(() => undefined);
    return mine;
  };
  return {
    hash: (password) =>
      inTurn(async () => {
        const salt = randomBytes(SALT_BYTES);
        const key = await derive(password, salt, cost);
        return ['scrypt', cost.logN, cost.r, cost.p, salt.toString('base64'), key.toString('base64')].join(
          '$',
        );
      }),
    matches: (password, stored) =>
      inTurn(async () => {
        const [, logN, r, p, salt = '', key = ''] = (stored ?? '').split('$');
        const used = stored === null ? cost : { logN: Number(logN), r: Number(r), p: Number(p) };
        const got = await derive(password, Buffer.from(salt, 'base64'), used);
        const wanted = Buffer.from(key, 'base64');
        return stored !== null && wanted.length === got.length && timingSafeEqual(got, wanted);
      }),
  };
};

export type PasswordRefusal =
  | { readonly reason: 'short' | 'long'; readonly limit: number }
  | { readonly reason: 'common' | 'name' };

/** Why a new password is refused; null when it is accepted. `names` are words that it must not merely repeat. */
export const passwordRefusal = (password: string, names: readonly string[]): PasswordRefusal | null => {
  const plain = password.normalize('NFKC').toLowerCase();
  const length = [...password.normalize('NFKC')].length;
  if (length < SHORTEST_PASSWORD) return { reason: 'short', limit: SHORTEST_PASSWORD };
  if (length > LONGEST_PASSWORD) return { reason: 'long', limit: LONGEST_PASSWORD };
  const bare = plain.replace(/[\s\d!?.,_-]+$/u, '');
  if (COMMON_PASSWORDS.has(plain) || COMMON_PASSWORDS.has(bare) || new Set(plain).size < 3)
    return { reason: 'common' };
  if (names.some((name) => name.length > 2 && bare === name.toLowerCase())) return { reason: 'name' };
  return null;
};
