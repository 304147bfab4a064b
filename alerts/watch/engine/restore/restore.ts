// The state of the watch as it was stored, whichever layout it has.

import { alarmsOf, gatewayOf, patternOf, probeOf, siteOf, stationOf, summedPatternOf } from './carry-over.ts';
import { EARLIER_PARTS, isSummedPattern } from './earlier-layout.ts';
import {
  alarmsKey,
  gatewayKey,
  historyKey,
  isPatternKey,
  LAYOUT,
  patternKey,
  probeKey,
  stationKey,
  type WatchState,
} from '../state/memory.ts';

type Parts = Readonly<Record<string, unknown>>;

export interface RestoredWatch {
  readonly state: WatchState;
  /** What must be stored with the first commit, by key: parts in their new form, `undefined` for those that are gone. */
  readonly unsaved: Parts;
  /** Parts of an earlier layout that could not be read; they are to be kept aside. */
  readonly unread: Parts;
}

export function restoreWatch(stored: Parts): RestoredWatch {
  const isEarlier = stored.layout === undefined && Object.entries(stored).some(isOfEarlierLayout);
  if (isEarlier) return carryParts(stored);
  const parts = Object.fromEntries(Object.entries(stored).filter(([key]) => isWatchKey(key)));
  const state = isWatchState(parts) ? parts : {};
  if (state.layout === LAYOUT) return { state, unsaved: {}, unread: {} };
  if (stored.layout === SUMMED_PATTERNS_LAYOUT) return withPatternsCarriedOver(state);
  return { state: { ...state, layout: LAYOUT }, unsaved: { layout: LAYOUT }, unread: {} };
}

/** Only there had a station its probes, and a place its past. */
const isOfEarlierLayout = ([key, part]: readonly [string, unknown]): boolean =>
  key.startsWith('past:') ||
  (key.startsWith('station:') && typeof part === 'object' && part !== null && 'probes' in part);

const isWatchKey = (key: string): boolean =>
  /^(layout|clock|site|(station|history|probe|gateway|pattern|course|alarms):.*)$/s.test(key);

/** Parts are written by the watch alone, each under the key that names its type. */
const isWatchState = (parts: Parts): parts is WatchState & Parts => Object.keys(parts).every(isWatchKey);

const SUMMED_PATTERNS_LAYOUT = 2;

function withPatternsCarriedOver(state: WatchState): RestoredWatch {
  const changed: Mutable<WatchState> = { layout: LAYOUT };
  const next: Mutable<WatchState> = { ...state, layout: LAYOUT };
  const unread: Record<string, unknown> = {};
  for (const [key, part] of Object.entries(state)) {
    if (!isPatternKey(key) || part === null) continue;
    delete next[key];
    if (isSummedPattern.Check(part)) {
      changed[key] = summedPatternOf(part);
      next[key] = changed[key];
    } else unread[key] = part;
  }
  const gone = Object.fromEntries(Object.keys(unread).map((key) => [key, undefined]));
  return { state: next, unsaved: { ...gone, ...changed }, unread };
}

type Mutable<T> = { -readonly [Key in keyof T]: T[Key] };

function carryParts(stored: Parts): RestoredWatch {
  const state: Mutable<WatchState> = { layout: LAYOUT };
  const unread: Record<string, unknown> = {};
  const now = EARLIER_PARTS.clock.Check(stored.clock) ? stored.clock.now : 0;
  // A part that is gone was stored as null.
  for (const [key, part] of Object.entries(stored))
    if (part !== null && !carryOver(state, key, part, now)) unread[key] = part;
  const gone = Object.keys(stored).filter((key) => !Object.hasOwn(state, key));
  return { state, unsaved: { ...Object.fromEntries(gone.map((key) => [key, undefined])), ...state }, unread };
}

/** Adds one part in its new form; false when it cannot be read. */
function carryOver(state: Mutable<WatchState>, key: string, part: unknown, now: number): boolean {
  const colon = key.indexOf(':');
  const type = colon === -1 ? key : key.slice(0, colon);
  const id = key.slice(colon + 1);
  if (type === 'station' && EARLIER_PARTS.station.Check(part)) {
    state[stationKey(id)] = stationOf(part);
    for (const [probe, memory] of Object.entries(part.probes)) state[probeKey(probe)] = probeOf(memory, now);
  } else if (type === 'past' && EARLIER_PARTS.past.Check(part)) state[historyKey(id)] = part;
  else if (type === 'gateway' && EARLIER_PARTS.gateway.Check(part)) state[gatewayKey(id)] = gatewayOf(part);
  else if (type === 'pattern' && EARLIER_PARTS.pattern.Check(part)) state[patternKey(id)] = patternOf(part);
  else if (type === 'alarms' && EARLIER_PARTS.alarms.Check(part)) state[alarmsKey(id)] = alarmsOf(part);
  else if (type === 'clock' && EARLIER_PARTS.clock.Check(part)) state.clock = part;
  else if (type === 'site' && EARLIER_PARTS.site.Check(part)) state.site = siteOf(part);
  else return false;
  return true;
}
