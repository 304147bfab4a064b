// A probe that reads exactly the same for much longer than it ever did.

import { heats, STATION_KIND_FACTS, stores } from '../../../../lab/station-kinds.ts';
import { apartBy } from '../../measures/apart.ts';
import type { Holding } from '../../rule/condition-timer.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import type { ProbeInput } from '../../rule/rule-input.ts';
import { probeRule } from '../../rule/rule.ts';

/** Changes of the value before its longest rest means anything. */
const FEWEST_CHANGES = 200;
/** And a day with its night, for what is still at night. */
const DAY_MILLIS = 24 * 3_600_000;
const LEAST_AT_REST_MILLIS = { heater: 1_200_000, place: 3_600_000 };
/**
 * Where this share of readings differs from the one before, noise is about as large as a step, and so many readings alike
 * are no chance. Where steps are larger than the noise, a steady place may read as one value for a day.
 */
const NOISE_SHOWS_SHARE = 0.4;
const FEWEST_ALIKE = 60;
/** Nights and weekends are calmer than what was seen so far. */
const CALMER_TIMES = 1.5;
/** Kelvins; a probe that resolves no more shows a steady place as one value for days. */
const COARSE_STEP = 0.3;
const COARSE_TIMES = 3;
const RESTING_MILLIS = 96 * 3_600_000;

/** The places around must have moved the place by so many kelvins, and by so many of its probe's steps. */
const MOVED_KELVINS = 0.8;
const MOVED_STEPS = 6;
const LEAST_WHILE_MOVED_MILLIS = 3_600_000;
/** Kelvins, and steps, by which the other probes of its place moved away from it while it said the same. */
const LEFT_KELVINS = 0.6;
const LEFT_STEPS = 3;
/** A cabinet may have air of its own that is regulated, and follow the room less than its range lets one think. */
const BEHIND_DOOR_TIMES = 2;
/** Readings; the days before are gone through each time. */
const LOOKED_EVERY = 8;

/** The other probes of the place, or the places around, moved by more than it can overlook. */
function isLeftBehind(input: ProbeInput): boolean {
  const { apart, at, signal, station } = input;
  const since = signal.sameSince;
  if (station === null || !stores(station.kind) || at - since < LEAST_WHILE_MOVED_MILLIS) return false;
  const left = Math.max(LEFT_KELVINS, LEFT_STEPS * signal.smallestStep);
  const isLonger = at - since > CALMER_TIMES * signal.longestSame;
  if (isLonger && apart !== null && apartBy(apart, left) !== 0) return true;
  if (signal.sameReadings % LOOKED_EVERY !== 0) return false;
  const moved = input.expectedMove(since);
  const times = STATION_KIND_FACTS[station.kind].hasDoor ? BEHIND_DOOR_TIMES : 1;
  return moved !== null && moved >= times * Math.max(MOVED_KELVINS, MOVED_STEPS * signal.smallestStep);
}

/**
 * Where power is given in proportion a heater at which nobody works rests at one value of its probe: from its warm-up until
 * somebody comes, or over a pause. Common practice.
 */
const HELD_STEADY_MILLIS = 3 * 3_600_000;
function isUnusualAtWork(input: ProbeInput, ratio: number, leastMillis: number): boolean {
  const { at, signal } = input;
  const same = at - signal.sameSince;
  if (signal.changesAtWork < FEWEST_CHANGES || same < Math.max(ratio * signal.longestSameAtWork, leastMillis))
    return false;
  return same >= HELD_STEADY_MILLIS || !input.mayBeHeldSteady;
}

function isUnusualAtRest({ at, signal, station }: ProbeInput, ratio: number): boolean {
  const { changesAtRest = 0, readingsAtRest = 0, sameReadings, since } = signal;
  if (changesAtRest < FEWEST_CHANGES || at - since < DAY_MILLIS || sameReadings < FEWEST_ALIKE) return false;
  // At work a heater moves the value at each reading, and says nothing about noise.
  if (changesAtRest < NOISE_SHOWS_SHARE * readingsAtRest) return false;
  const { heater, place } = LEAST_AT_REST_MILLIS;
  const shortest = station !== null && heats(station.kind) ? heater : place;
  const least = Math.max(CALMER_TIMES * ratio * signal.longestSame, shortest);
  return at - signal.sameSince >= least;
}

const holding = ({ celsius, signal, station }: ProbeInput): Holding => ({
  evidence: {
    value_celsius: celsius,
    since_at: signal.sameSince,
    ...(station ? { station: station.id } : {}),
  },
});

export const probeStuck = probeRule({
  kind: 'probe-stuck',
  on: 'reading',
  priority: 'medium',
  looksAround: true,
  formula:
    'value exactly unchanged for ≥ ratio · its longest rest so far and ≥ least time (after 200 changes; a heater that is held steady ≥ 3 h; at a place and at a heater that is off, where ≥ 40 % of such readings differ from the one before, 1.5 times that, ≥ 1 h, a heater 20 min, and 60 readings, after a day), or for ≥ hours (3 times that where its steps are > 0.3 K), or for ≥ 1 h while the places around it moved it by ≥ 0.8 K and 6 of its steps (with a door twice that; by one place alone only where one behind a door moved by a third of it too), or meanwhile the other probes of its place moved away from it by > 0.6 K and 3 of its steps; and for ≥ readings',
  parameters: {
    ratio: parameter('count', 4, [1.1, 20]),
    least_minutes: parameter('minutes', 6, [2, 600]),
    same_hours: parameter('hours', 36, [0.5, 240]),
    same_count: parameter('count', 30, [10, 100_000]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  figuresOnlyAt: { least_minutes: heats },
  evaluate: (input, p, isOn) => {
    const { at, isAtWork, signal, station } = input;
    const same = at - signal.sameSince;
    const isUnusual = isAtWork
      ? isUnusualAtWork(input, p.ratio, p.least_minutes * 60_000)
      : isUnusualAtRest(input, p.ratio);
    // A heater that is off rests at the temperature of a room that rests; the noise of a fine probe does not.
    const isResting = !isAtWork && station !== null && heats(station.kind);
    if (signal.sameReadings < p.same_count) return 'gone';
    // What has begun lasts until the value changes.
    if (isResting) return same < RESTING_MILLIS && !isUnusual && !isOn ? 'gone' : holding(input);
    const times = !isAtWork && signal.smallestStep > COARSE_STEP ? COARSE_TIMES : 1;
    const isFar = same >= times * p.same_hours * 3_600_000;
    if (!isUnusual && !isFar && !isOn && !isLeftBehind(input)) return 'gone';
    return holding(input);
  },
  staysQuiet: ({ signal, station }, p, bounds) => {
    const mayRest = station !== null && heats(station.kind);
    return (
      bounds.fewerAlikeThan(p.same_count) && (!mayRest || bounds.until(signal.sameSince + RESTING_MILLIS))
    );
  },
});
