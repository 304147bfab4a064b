// How long to wait after wrong passwords: a growing delay for each pair of account and address, one for an address
// that tries many accounts, one for an account that is tried from everywhere. Never a lock: every delay has an
// end, and an address from which the account signed in before is spared the delay that strangers cause.

import { type EpochMillis, epochMillis, MILLIS_PER_MINUTE, MILLIS_PER_SECOND } from '../../../wax/units.ts';

interface Tries {
  readonly failures: number;
  readonly until: EpochMillis;
}

/** Delay after the nth failure: none for `free`, then one second doubled each time, up to a quarter of an hour. */
const LONGEST_DELAY_MILLIS = 15 * MILLIS_PER_MINUTE;
const FREE_FAILURES = { pair: 3, address: 20, account: 100 } as const;
type Kind = keyof typeof FREE_FAILURES;
const MOST_KEPT = 10_000;

export const delayMillis = (kind: Kind, failures: number): number => {
  const over = failures - FREE_FAILURES[kind];
  return over <= 0 ? 0 : Math.min(MILLIS_PER_SECOND * 2 ** (over - 1), LONGEST_DELAY_MILLIS);
};

export interface Throttle {
  /** Seconds to wait before the next try is looked at; 0 when it may go on. */
  readonly secondsToWait: (account: string, address: string, knownAddress: boolean) => number;
  readonly failed: (account: string, address: string) => void;
  readonly succeeded: (account: string, address: string) => void;
}

export const throttle = (now: () => EpochMillis): Throttle => {
  const triesByKey = new Map<string, Tries>();
  const keys = (account: string, address: string): readonly (readonly [Kind, string])[] => [
    ['pair', `pair ${address} ${account}`],
    ['address', `address ${address}`],
    ['account', `account ${account}`],
  ];
  /** Accounts that are being slowed stay: otherwise tries at made-up names would make an account forget those at it. */
  const forgetOldest = (): void => {
    for (const [key, { failures }] of triesByKey) {
      if (triesByKey.size <= MOST_KEPT) return;
      if (!key.startsWith('account ') || failures <= FREE_FAILURES.account) triesByKey.delete(key);
    }
  };
  return {
    secondsToWait: (account, address, knownAddress) => {
      const waits = keys(account, address)
        .filter(([kind]) => kind !== 'account' || !knownAddress)
        .map(([, key]) => (triesByKey.get(key)?.until ?? 0) - now());
      // A clock that was set back makes no delay longer than it may be.
      const longest = Math.min(Math.max(...waits), LONGEST_DELAY_MILLIS);
      return Math.max(0, Math.ceil(longest / MILLIS_PER_SECOND));
    },
    failed: (account, address) => {
      for (const [kind, key] of keys(account, address)) {
        const failures = (triesByKey.get(key)?.failures ?? 0) + 1;
        triesByKey.delete(key);
        triesByKey.set(key, { failures, until: epochMillis(now() + delayMillis(kind, failures)) });
      }
      forgetOldest();
    },
    succeeded: (account, address) => {
      for (const [kind, key] of keys(account, address)) {
        const failures = (triesByKey.get(key)?.failures ?? 0) - 1;
        // An address keeps the tries at other accounts, so that one good password does not wash off the rest.
        if (kind === 'address' && failures > 0) triesByKey.set(key, { failures, until: now() });
        else triesByKey.delete(key);
      }
    },
  };
};
