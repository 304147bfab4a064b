// The addresses that every browser suite goes through: that of each screen, so that no new one is left out.

import { PLACES as PATTERNS } from '../../dashboard/web/base/places.ts';

/** The pattern that `fillRecords` lays on the shelf. */
export const SHOWN_PATTERN = 'K7Q2';
/** The lot that `fillRecords` records. */
export const SHOWN_LOT = 'LOT7';
const SHOWN_STATION = 'pot-1';
const SHOWN_PROBE = 'pot-1-a';

export const PLACES: readonly string[] = [
  ...Object.values(PATTERNS).map((path) =>
    path
      .replace(':station', SHOWN_STATION)
      .replace(':pattern', SHOWN_PATTERN)
      .replace(':lot', SHOWN_LOT)
      .replace(':probe', SHOWN_PROBE),
  ),
  // A record with a shelf, a pot and what is signed in it.
  '/evidence?from=2031-03-03&to=2031-03-03',
  '/not-found',
];

/** Each screen is looked at in its fullest form, which is the manager's; who is not signed in sees that one form. */
export const isForManager = (path: string): boolean => path !== '/sign-in';
