// A thermostat whose rhythm is no longer what it was: ragged or fast, as a contact that bounces makes it.

import { holdsMeltedWax } from '../../../../lab/station-kinds.ts';
import type { HeatCycle, HeaterBand, UsualBand } from '../../measures/heater-band.ts';
import type { Rhythm } from '../../measures/rhythm.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { extremesOfLast, TEN_MINUTES_MILLIS } from '../../measures/ten-minutes.ts';
import { isKnownToRest, STILL_SHARE } from '../../measures/still.ts';
import { upperMedian } from '../../measures/upper-median.ts';
import { MILLIS_PER_HOUR } from '../../../../wax/units.ts';
import { isPause } from './closing.ts';
import {
  isInterrupted,
  isRagged,
  isSunk,
  lacksPower,
  periodOf,
  rateOf,
  strays,
  wanders,
} from './uneven-rhythm.ts';

/** Cycles before the usual figures mean anything. */
const FEWEST_LEARNED = 15;
const SETTLED_MILLIS = 45 * 60_000;
/** Standard deviation of the logarithm of its pace above which it has no rhythm to lose: proportional control. */
const LEAST_REGULAR = 0.2;
const FAST_CYCLES = 5;
/** A band narrower than this has no rhythm to lose. */
const LEAST_BAND = 1.5;

/** Windows that are enough where most of them were even: for where it turns, and for how fast and how evenly. */
const FEWEST_EVEN = { turns: 1, pace: 4 } as const;
const MOSTLY_EVEN = 0.5;
/** With fewer even ones it is work that makes it turn, and no thermostat. */
const LEAST_EVEN = 0.3;

/** It is known, and regular enough to be lost. */
function hasRhythm(rhythm: Rhythm | null, of: keyof typeof FEWEST_EVEN): rhythm is Rhythm {
  if (rhythm === null || Math.sqrt(rhythm.variance) > LEAST_REGULAR) return false;
  const { learned, even = learned } = rhythm;
  if (learned >= FEWEST_LEARNED) return even >= LEAST_EVEN * learned;
  return learned >= FEWEST_EVEN[of] && even >= MOSTLY_EVEN * learned;
}

interface Medians {
  readonly period: number;
  readonly rise: number;
  readonly swing: number;
}

const mediansOf = (cycles: readonly HeatCycle[]): Medians => ({
  period: upperMedian(cycles.map(periodOf)),
  rise: upperMedian(cycles.map(({ riseSeconds }) => riseSeconds)),
  swing: upperMedian(cycles.map(({ high, low }) => high - low)),
});

// Cycles change once in some minutes and are read at every reading.
const remembered = new WeakMap<readonly HeatCycle[], Medians>();

/** Cold pieces and an open lid hasten the falls alone: while it loses more, it heats for as long as before or longer. */
const SHORTER_RISE = 0.85;

/**
 * Cold pieces keep more than so many of its newest cycles below its band, and hasten their falls alone. In less wax it rises
 * faster too, and by about as much.
 */
const MOST_SUNK = 2;
const FASTER_RISE = 1.1;
const ALIKE = 1.5;
function isCooled(newest: readonly HeatCycle[], usual: UsualBand): boolean {
  if (newest.filter((cycle) => isSunk(cycle, usual)).length <= MOST_SUNK) return false;
  const rise = rateOf(newest, usual, 'riseSeconds');
  return rise < FASTER_RISE || rateOf(newest, usual, 'fallSeconds') > ALIKE * rise;
}

/**
 * The newest cycles, all of them within `longestMillis`, are shorter than usual by `ratio`, their rises shorter too, and wider
 * than `kelvins`.
 */
function isFasterThan(
  cycles: readonly HeatCycle[],
  at: number,
  longestMillis: number,
  usual: UsualBand,
  ratio: number,
  kelvins: number,
): boolean {
  const oldest = cycles[cycles.length - FAST_CYCLES];
  if (oldest === undefined || at - oldest.at >= longestMillis) return false;
  let medians = remembered.get(cycles);
  if (medians === undefined) {
    medians = mediansOf(cycles.slice(-FAST_CYCLES));
    remembered.set(cycles, medians);
  }
  const isShorter =
    medians.period < periodOf(usual) / ratio && medians.rise < SHORTER_RISE * usual.riseSeconds;
  return isShorter && medians.swing > kelvins && !isCooled(cycles.slice(-FAST_CYCLES), usual);
}

/** A contact that has lost its difference holds the pot within a small part of its usual band, without whole cycles. */
const STEADY_LEAST_BAND = 0.8;
const STEADY_PERIODS = 3;
const STEADY_LEAST_MILLIS = 20 * 60_000;
/** What stays so is a pot that is controlled in another way. */
const STEADY_MOST_MILLIS = 4 * 3_600_000;

const steadyLeastMillis = (usual: UsualBand): number =>
  Math.max(STEADY_LEAST_MILLIS, STEADY_PERIODS * 1000 * periodOf(usual));

/** At least half as wide as usual; noise makes narrow ones. */
const isWide =
  (width: number) =>
  ({ high, low }: HeatCycle): boolean =>
    high - low >= width / 2;

/** End of the newest wide cycle, or of the oldest known. */
const lastWideAt = (cycles: readonly HeatCycle[], width: number): number =>
  (cycles.findLast(isWide(width)) ?? cycles[0])?.at ?? Number.POSITIVE_INFINITY;

/** What turns mostly while somebody works at it is held steady by proportional control, and rests when nobody does. */
function turnsByWork(cycles: readonly HeatCycle[], width: number): boolean {
  const wide = cycles.filter(isWide(width));
  return 2 * wide.filter(({ disturbed }) => disturbed).length > wide.length;
}

/** Kelvins that it swings where it holds still within its usual band instead of cycling; null where it does not. */
function steadySwing(
  { at, celsius, disturbedAt, history }: StationInput,
  band: HeaterBand,
  usual: UsualBand,
): number | null {
  const width = usual.high - usual.low;
  const sinceCycle = at - lastWideAt(band.cycles, width);
  const least = steadyLeastMillis(usual);
  if (width < STEADY_LEAST_BAND || sinceCycle < least || sinceCycle > STEADY_MOST_MILLIS) return null;
  if (celsius < usual.low || celsius > usual.high || at - disturbedAt < least) return null;
  if (turnsByWork(band.cycles, width) || isKnownToRest(band, at)) return null;
  const lately = extremesOfLast(history, (least - TEN_MINUTES_MILLIS) / MILLIS_PER_HOUR);
  const swing = lately === null ? width : lately.high - lately.low;
  // One and the same value is that of a stuck probe.
  return swing > 0 && swing < STILL_SHARE * width ? swing : null;
}

export const thermostatDrift = stationRule({
  kind: 'thermostat-drift',
  priority: 'medium',
  extremes: [],
  formula:
    'where it is read 6 times a cycle or more, after 22 cycles (of a third of which it was so, or more, that all but one of the newest 6 lay within 25 % of their median width and period), or after 11 (held within its band: after 8), where it was so at half of them, open or in a pause (held within its band: open) (but for the one that holds still, not where it held still within its usual band in the last 10 days and moved again): of the newest 4 cycles, nobody at work in them and no top < usual low + 0.3 · usual band: median rise + fall in K/min < power share · usual, three tops different, and median difference of successive tops > max(0.3 K, share · usual band, 3 · usual); or of the newest 6, nobody at work in them and such low tops in two at most: tops different so, two of them above usual high by max(0.2 K, share · usual band, 3 · usual difference), and median period > usual / power share; or of the newest 6, nobody at work in them: a top above usual high and the median of those before by max(0.25 K, share · usual band, 3 · usual difference), two so far to either side, median difference of successive tops so large too, median rise < 0.85 · usual and median fall 0.7 to 1.3 · usual, in K/min; or median period of the newest 5 cycles < usual period / ratio and their median rise < 0.85 · usual, such low tops in two at most, or rises > 1.1 · usual in K/min and falls < 1.5 times as much so; or within its usual band, no cycle half as wide as usual for 3 usual periods, 20 min at least, to 4 h, after cycles at half of which or more nobody worked, nobody at work meanwhile, and highest − lowest of that time, but the oldest 10 min, > 0 and < 0.4 · usual band, unless it held still so in those days; or of the newest 3 cycles, nobody at work in them and all wide as usual, 2.2 K at least: median rise + fall in K/min < 0.9 · power share · usual, while it falls as fast as usual (0.8 to 1.25); or of the newest 3 cycles of a band of 1.5 K or more, nobody at work in them, one top below usual high by max(0.3 K, 0.2 · usual band, 3 · usual difference), not so low as above, with a fall < 0.7 · usual and 0.7 · those before in K/min, and another top so, or above all those before by max(0.2 K, share · usual band, 3 · usual difference)',
  parameters: {
    ratio: parameter('count', 1.8, [1.1, 5]),
    scatter_share: parameter('share', 0.15, [0.02, 1]),
    power_share: parameter('share', 0.75, [0.2, 1]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(3600),
  },
  hiddenBehind: ['fire-risk', 'over-ceiling', 'runaway', 'no-heat', 'heater-weak', 'low-pot', 'probe-out'],
  appliesTo: (station) => holdsMeltedWax(station.kind),
  evaluate: (input, p) => {
    const { activity, at, band, hours, rhythm } = input;
    const usual = band?.usual ?? null;
    if (band === null || usual === null || !hasRhythm(rhythm, 'turns')) return 'unknown';
    if (activity?.kind !== 'hot' || at - activity.since < SETTLED_MILLIS) return 'unknown';
    if (!hours.open && !isPause(input)) return 'unknown';
    const width = usual.high - usual.low;
    const usualPeriod = usual.riseSeconds + usual.fallSeconds;
    const longestMillis = 10 * usualPeriod * 1000;
    // Over a pause it may be off.
    const steady = hours.open ? steadySwing(input, band, usual) : null;
    if (steady !== null)
      return {
        evidence: {
          how: 'steady',
          swing_celsius_difference: steady,
          usual_swing_celsius_difference: width,
          usual_period_minutes: usualPeriod / 60,
        },
      };
    // What has held still of late is controlled in proportion, and its turns are those of the work.
    if (isKnownToRest(band, at)) return 'gone';
    if (!hasRhythm(rhythm, 'pace')) return 'gone';
    const isFast =
      width >= LEAST_BAND && isFasterThan(band.cycles, at, longestMillis, usual, p.ratio, width / 2);
    const heater = { cycles: band.cycles, at, usual, rhythm };
    const isUneven =
      isRagged(heater, p) ||
      wanders(heater, p) ||
      strays(heater, p) ||
      lacksPower(heater, p) ||
      isInterrupted(heater, p);
    if (!isFast && !isUneven) return 'gone';
    const newest = band.cycles.slice(-FAST_CYCLES).filter((cycle) => at - cycle.at < longestMillis);
    const { period, swing } = mediansOf(newest);
    return {
      evidence: {
        swing_celsius_difference: swing,
        usual_swing_celsius_difference: width,
        period_minutes: period / 60,
        usual_period_minutes: usualPeriod / 60,
      },
    };
  },
  // It goes by closed cycles, which only grow too old to count, and by how long none has closed.
  staysQuiet: (input, _, bounds) => {
    const { activity, at, band, hours, rhythm } = input;
    if (activity?.kind !== 'hot' || !hasRhythm(rhythm, 'turns')) return true;
    if (!hours.open && !isPause(input)) return true;
    if (at - activity.since < SETTLED_MILLIS) return bounds.until(activity.since + SETTLED_MILLIS);
    const usual = band?.usual ?? null;
    if (band === null || usual === null) return true;
    const width = usual.high - usual.low;
    const wideAt = lastWideAt(band.cycles, width);
    if (width < STEADY_LEAST_BAND || at - wideAt > STEADY_MOST_MILLIS) return true;
    return (
      bounds.until(wideAt + steadyLeastMillis(usual)) ||
      turnsByWork(band.cycles, width) ||
      isKnownToRest(band, at)
    );
  },
});
