// Which screen an address names. Pure.

/** The places of set-up and people, each a screen of its own under `/set-up/`. */
const SET_UP = [
  'set-up/site',
  'set-up/stations',
  'set-up/rules',
  'set-up/probes',
  'set-up/waxes',
  'set-up/bent-stick',
  'set-up/lab-file',
  'set-up/telling',
  'set-up/post',
  'set-up/people',
  'set-up/keys',
  'set-up/audit',
  'set-up/account',
] as const;
export type SetUpScreen = (typeof SET_UP)[number];

export type Route =
  | {
      readonly screen:
        | 'home'
        | 'wall'
        | 'alarms'
        | 'pocket'
        | 'probes'
        | 'quarantine'
        | 'sign-in'
        | 'settings'
        | 'begin'
        | SetUpScreen
        | 'quality'
        | 'night'
        | 'month'
        | 'patterns'
        | 'patterns/new'
        | 'charges'
        | 'fit-budget'
        | 'nowhere';
    }
  | { readonly screen: 'station' | 'station-work'; readonly station: string }
  | { readonly screen: 'pattern'; readonly pattern: string };

const PLAIN = [
  'wall',
  'alarms',
  'pocket',
  'probes',
  'quarantine',
  'sign-in',
  'settings',
  'begin',
  'quality',
  'night',
  'month',
  'patterns',
  'charges',
  'fit-budget',
] as const;

const decoded = (part: string): string | null => {
  try {
    return decodeURIComponent(part);
  } catch {
    return null;
  }
};

export const routeOf = (path: string): Route => {
  const parts = path.split('/').filter((part) => part !== '');
  const [first, second] = parts;
  if (first === undefined) return { screen: 'home' };
  const setUp = SET_UP.find((name) => name === parts.join('/'));
  if (setUp !== undefined) return { screen: setUp };
  if (first === 'station' && second !== undefined && parts.length === 2) {
    const station = decoded(second);
    return station === null ? { screen: 'nowhere' } : { screen: 'station', station };
  }
  if (parts.join('/') === 'patterns/new') return { screen: 'patterns/new' };
  // Short, because they are printed on labels.
  if ((first === 'p' || first === 's') && second !== undefined && parts.length === 2) {
    const id = decoded(second);
    if (id === null) return { screen: 'nowhere' };
    return first === 'p' ? { screen: 'pattern', pattern: id } : { screen: 'station-work', station: id };
  }
  const plain = PLAIN.find((name) => name === first);
  return plain !== undefined && parts.length === 1 ? { screen: plain } : { screen: 'nowhere' };
};

/** Only paths of this place: a link must not lead a person who just signed in elsewhere. */
export const safeReturn = (asked: string | null): string =>
  asked !== null && /^\/(?![/\\])/.test(asked) && !asked.startsWith('/sign-in') ? asked : '/';
