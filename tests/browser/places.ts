// The addresses that every browser suite goes through: each screen of the routes, so that a new one does not compile
// until it has its place here.

import type { Route } from '../../dashboard/web/base/route.ts';

/** The pattern that `fillRecords` lays on the shelf. */
export const SHOWN_PATTERN = 'K7Q2';

const PLACE_OF: Readonly<Record<Route['screen'], string>> = {
  home: '/',
  wall: '/wall',
  alarms: '/alarms',
  pocket: '/pocket',
  probes: '/probes',
  quarantine: '/quarantine',
  settings: '/settings',
  'sign-in': '/sign-in',
  night: '/night',
  month: '/month',
  quality: '/quality',
  station: '/station/pot-1',
  'station-work': '/s/pot-1',
  patterns: '/patterns',
  'patterns/new': '/patterns/new',
  pattern: `/p/${SHOWN_PATTERN}`,
  charges: '/charges',
  'fit-budget': '/fit-budget',
  begin: '/begin',
  'set-up/site': '/set-up/site',
  'set-up/stations': '/set-up/stations',
  'set-up/rules': '/set-up/rules',
  'set-up/probes': '/set-up/probes',
  'set-up/waxes': '/set-up/waxes',
  'set-up/bent-stick': '/set-up/bent-stick',
  'set-up/lab-file': '/set-up/lab-file',
  'set-up/telling': '/set-up/telling',
  'set-up/post': '/set-up/post',
  'set-up/people': '/set-up/people',
  'set-up/keys': '/set-up/keys',
  'set-up/audit': '/set-up/audit',
  'set-up/account': '/set-up/account',
  nowhere: '/nowhere',
};
export const PLACES: readonly string[] = Object.values(PLACE_OF);

/** Each screen is looked at in its fullest form, which is the manager's; who is not signed in sees that one form. */
export const isForManager = (path: string): boolean => path !== '/sign-in';
