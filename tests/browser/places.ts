// The addresses of the screens that every browser suite goes through: each screen of the routes, once.

/** The pattern that `fillLab` lays on the shelf. */
export const SHOWN_PATTERN = 'K7Q2';

export const PLACES: readonly string[] = [
  '/',
  '/wall',
  '/alarms',
  '/pocket',
  '/probes',
  '/quarantine',
  '/settings',
  '/sign-in',
  '/night',
  '/month',
  '/quality',
  '/station/pot-1',
  '/s/pot-1',
  '/patterns',
  '/patterns/new',
  `/p/${SHOWN_PATTERN}`,
  '/charges',
  '/fit-budget',
  '/begin',
  '/set-up/site',
  '/set-up/stations',
  '/set-up/rules',
  '/set-up/probes',
  '/set-up/waxes',
  '/set-up/bent-stick',
  '/set-up/lab-file',
  '/set-up/telling',
  '/set-up/post',
  '/set-up/people',
  '/set-up/keys',
  '/set-up/audit',
  '/set-up/account',
  '/nowhere',
];

/** Each screen is looked at in its fullest form, which is the manager's; who is not signed in sees that one form. */
export const isForManager = (path: string): boolean => path !== '/sign-in';
