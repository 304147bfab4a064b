// The words of the wall: it downloads these alone. A test reads
// the wall's own modules and demands that this list is neither too short nor too long.

/** Groups of which every word can be shown, because the rest of the key comes from the server. */
export const WHOLE_GROUPS: readonly string[] = ['condition', 'intent', 'wax-short'];

const SINGLE_GROUPS =
  /^(announce|empty|line|preparing|sound|wall)\.|^trouble\.(?!not-found$)|^(quarantine|sign-in)\.title$/;
const SHARED_KEYS: ReadonlySet<string> = new Set([
  'nav.lab',
  'nav.probes',
  'standing.acknowledged',
  'standing.alarms',
  'standing.in-order',
  'standing.never',
  'standing.no-stations',
  'standing.part-failing',
  'standing.past',
  'standing.shelved',
  'standing.silent',
  'station.ceiling',
  'station.dose',
  'station.intent-at',
  'station.intent-until',
  'station.no-wax',
  'station.window',
]);
const OF_A_RULE = /^rule\.[\w-]+\.(short|brief)$/;

/** @param key of a message, such as `wall.rising` */
export const isWallWord = (key: string): boolean =>
  OF_A_RULE.test(key) ||
  WHOLE_GROUPS.includes(key.split('.')[0] ?? '') ||
  SINGLE_GROUPS.test(key) ||
  SHARED_KEYS.has(key);
