// The address of each screen. Pure, so that tests and the build can read it. A screen is an entry here and one in
// app/screens.ts.

import { exec } from 'preact-iso/router';

export const PLACES = {
  home: '/',
  wall: '/wall',
  alarms: '/alarms',
  phone: '/phone',
  probes: '/probes',
  probe: '/probe/:probe',
  quarantine: '/quarantine',
  settings: '/settings',
  'sign-in': '/sign-in',
  quality: '/quality',
  night: '/night',
  month: '/month',
  evidence: '/evidence',
  training: '/training',
  station: '/station/:station',
  // Short, because they are printed on labels.
  'station-work': '/s/:station',
  pattern: '/p/:pattern',
  patterns: '/patterns',
  'patterns/new': '/patterns/new',
  charges: '/charges',
  lots: '/lots',
  lot: '/lots/:lot',
  'fit-budget': '/fit-budget',
  'fit-proof': '/fit-proof',
  begin: '/begin',
  'set-up/site': '/set-up/site',
  'set-up/stations': '/set-up/stations',
  'set-up/rules': '/set-up/rules',
  'set-up/probes': '/set-up/probes',
  'set-up/gateways': '/set-up/gateways',
  'set-up/payload-mappings': '/set-up/payload-mappings',
  'set-up/waxes': '/set-up/waxes',
  'set-up/casting-materials': '/set-up/casting-materials',
  'set-up/bent-stick': '/set-up/bent-stick',
  'set-up/lab-file': '/set-up/lab-file',
  'set-up/stored-readings': '/set-up/stored-readings',
  'set-up/group': '/set-up/group',
  'set-up/connections': '/set-up/connections',
  'set-up/notification-plan': '/set-up/notification-plan',
  'set-up/deliveries': '/set-up/deliveries',
  'set-up/people': '/set-up/people',
  'set-up/keys': '/set-up/keys',
  'set-up/audit': '/set-up/audit',
  'set-up/account': '/set-up/account',
} as const satisfies Readonly<Record<string, string>>;

export type PlaceName = keyof typeof PLACES;

/** Addresses of before, which are in bookmarks and on phones: each leads on to the one of today. */
const FORMER: Readonly<Record<string, string>> = {
  '/pocket': PLACES.phone,
  '/set-up/telling': PLACES['set-up/notification-plan'],
  '/set-up/post': PLACES['set-up/deliveries'],
};

const isAt = (path: string, name: PlaceName): boolean => {
  try {
    return exec(path, PLACES[name]) !== undefined;
  } catch {
    // An address that cannot be decoded leads nowhere.
    return false;
  }
};

const NAMES = Object.keys(PLACES) as PlaceName[];

export const placeAt = (path: string): PlaceName | 'not-found' =>
  NAMES.find((name) => isAt(path, name)) ?? 'not-found';

/** Where a former address leads; null for any other. */
export const newAddressOf = (path: string): string | null =>
  Object.hasOwn(FORMER, path) ? (FORMER[path] ?? null) : null;

/**
 * The path to go to after signing in. Only a path of this site: a link must not lead a person elsewhere, and an
 * address is read without the tabs and line ends in it.
 */
export const safeReturn = (path: string | undefined): string =>
  path !== undefined && /^\/(?![/\\\t\r\n])/.test(path) && !path.startsWith('/sign-in') ? path : '/';
