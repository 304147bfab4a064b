// The addresses of the screens that every browser suite goes through.

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
  '/station/pot-1',
  '/nowhere',
];
