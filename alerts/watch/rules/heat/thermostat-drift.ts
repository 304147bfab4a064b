// A thermostat whose rhythm is no longer what it was: ragged or fast, as a contact that bounces makes it.

import { holdsMeltedWax } from '../../../../lab/station-kinds.ts';
import type { HeatCycle } from '../../measures/heater-band.ts';
import type { Rhythm } from '../../measures/rhythm.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
import { upperMedian } from '../../measures/upper-median.ts';

/** Cycles before the usual figures mean anything. */
const FEWEST_LEARNED = 15;
const SETTLED_MILLIS = 45 * 60_000;
/** Standard deviation of the logarithm of its pace above which it has no rhythm to lose: proportional control. */
const LEAST_REGULAR = 0.2;
/** Windows in a row that must be ragged. */
const RAGGED_WINDOWS = 2;
const LEAST_SCATTER = 0.4;
const TIMES_USUAL_SCATTER = 5;
const FAST_CYCLES = 5;
/** A band narrower than this has no rhythm to lose. */
const LEAST_BAND = 1.5;

const periodOf = ({ riseSeconds, fallSeconds }: HeatCycle): number => riseSeconds + fallSeconds;

/** Cycles of a window that nobody was at work in, so that what they say is said of the heater. */
const WINDOW_CYCLES = 7;
const FEWEST_UNDISTURBED = 4;
const isUndisturbed = (cycles: readonly HeatCycle[]): boolean =>
  withoutWork(cycles.slice(-WINDOW_CYCLES)).length >= FEWEST_UNDISTURBED;

/**
 * Of the usual band above its low end. A contact that bounces turns within the band; tops below are those of a pot that
 * loses more than usual: cold pieces, a lid off.
 */
const SUNK_SHARE = 0.3;
const isSunk = (cycles: readonly HeatCycle[], { high, low }: Swing): boolean =>
  cycles.some((cycle) => cycle.high < low + SUNK_SHARE * (high - low));

const withoutWork = (cycles: readonly HeatCycle[]): readonly HeatCycle[] =>
  cycles.filter(({ disturbed }) => !disturbed);

/** Tops that scatter, and less power than usual on the whole: a bounce interrupts the heating. */
function isRagged(rhythm: Rhythm, width: number, scatterShare: number, powerShare: number): boolean {
  const { windows } = rhythm;
  const limit = Math.max(LEAST_SCATTER, scatterShare * width, TIMES_USUAL_SCATTER * rhythm.scatter);
  if (windows.length < RAGGED_WINDOWS || (windows.at(-1)?.scatter ?? 0) <= limit) return false;
  return windows
    .slice(-RAGGED_WINDOWS)
    .every(({ anyPace, scatter }) => scatter > limit && anyPace < rhythm.anyPace + Math.log(powerShare));
}

/** Few cycles are enough where nearly all of them differ by far, and they may be longer than usual. */
const FEW_CYCLES = 5;
const FEW_USUAL_PERIODS = 20;
const FEW_LEAST_SCATTER = 0.3;
const FEW_SCATTER_SHARE = 0.15;
/** A cold piece slows the rise and hastens the fall; both together are what the heater gives, and a bounce takes from it. */
const LEAST_LOSS_SHARE = 0.9;

const riseOf = ({ high, low, riseSeconds }: Swing): number => (high - low) / Math.max(1, riseSeconds);
const fallOf = ({ high, low, fallSeconds }: Swing): number => (high - low) / Math.max(1, fallSeconds);
type Swing = Pick<HeatCycle, 'high' | 'low' | 'riseSeconds' | 'fallSeconds'>;

/** Of the newest cycles without work nearly every top differs from the one before, and they rise more slowly than usual. */
function isRaggedOfLate(
  cycles: readonly HeatCycle[],
  at: number,
  usual: Swing,
  usualScatter: number,
  powerShare: number,
): boolean {
  const newest = withoutWork(cycles.slice(-FEW_CYCLES));
  const oldest = newest[0];
  const longestMillis = FEW_USUAL_PERIODS * 1000 * (usual.riseSeconds + usual.fallSeconds);
  if (oldest === undefined || newest.length < FEW_CYCLES || at - oldest.at >= longestMillis) return false;
  const differences = newest
    .slice(1)
    .map(({ high }, index) => Math.abs(high - (newest[index]?.high ?? high)));
  // All of them but one.
  const scatter = [...differences].sort((a, b) => a - b)[1] ?? 0;
  const width = usual.high - usual.low;
  const limit = Math.max(FEW_LEAST_SCATTER, FEW_SCATTER_SHARE * width, TIMES_USUAL_SCATTER * usualScatter);
  if (scatter <= limit || upperMedian(newest.map(riseOf)) >= powerShare * riseOf(usual)) return false;
  const paces = newest.map((cycle) => riseOf(cycle) + fallOf(cycle));
  return upperMedian(paces) < LEAST_LOSS_SHARE * (riseOf(usual) + fallOf(usual));
}

interface Medians {
  readonly period: number;
  readonly swing: number;
}

const mediansOf = (cycles: readonly HeatCycle[]): Medians => ({
  period: upperMedian(cycles.map(periodOf)),
  swing: upperMedian(cycles.map(({ high, low }) => high - low)),
});

// Cycles change once in some minutes and are asked at every reading.
const remembered = new WeakMap<readonly HeatCycle[], Medians>();

/** The newest cycles, all of them within `longestMillis`, are shorter than `seconds` and wider than `kelvins`. */
function isFasterThan(
  cycles: readonly HeatCycle[],
  at: number,
  longestMillis: number,
  seconds: number,
  kelvins: number,
): boolean {
  const oldest = cycles[cycles.length - FAST_CYCLES];
  if (oldest === undefined || at - oldest.at >= longestMillis) return false;
  let medians = remembered.get(cycles);
  if (medians === undefined) {
    medians = mediansOf(cycles.slice(-FAST_CYCLES));
    remembered.set(cycles, medians);
  }
  return medians.period < seconds && medians.swing > kelvins;
}

export const thermostatDrift = stationRule({
  kind: 'thermostat-drift',
  priority: 'medium',
  formula:
    'no top of the newest 7 cycles < usual low + 0.3 · usual band, and of 7 cycles, nobody at work in 4 of them, twice in a row: median difference of successive tops > max(0.4 K, share · usual band, 5 · usual) and rise + fall in K/min < power share · usual; or of the newest 5, nobody at work in them, all differences of successive tops but one > max(0.3 K, 0.15 · usual band, 5 · usual), rise in K/min < power share · usual and rise + fall < 0.9 · usual; or median period of the newest 5 cycles < usual period / ratio',
  parameters: {
    ratio: parameter('count', 1.8, [1.1, 5]),
    scatter_share: parameter('share', 0.1, [0.02, 1]),
    power_share: parameter('share', 0.82, [0.2, 1]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(3600),
  },
  hiddenBehind: ['fire-risk', 'over-ceiling', 'runaway', 'no-heat', 'heater-weak', 'low-pot', 'probe-out'],
  appliesTo: (station) => holdsMeltedWax(station.kind),
  evaluate: ({ activity, at, band, hours, rhythm }, p) => {
    const usual = band?.usual ?? null;
    if (band === null || usual === null || rhythm === null || rhythm.learned < FEWEST_LEARNED)
      return 'unknown';
    if (activity?.kind !== 'hot' || at - activity.since < SETTLED_MILLIS || !hours.open) return 'unknown';
    if (Math.sqrt(rhythm.variance) > LEAST_REGULAR) return 'unknown';
    const width = usual.high - usual.low;
    const usualPeriod = usual.riseSeconds + usual.fallSeconds;
    const longestMillis = 10 * usualPeriod * 1000;
    const isFast =
      width >= LEAST_BAND && isFasterThan(band.cycles, at, longestMillis, usualPeriod / p.ratio, width / 2);
    const isUneven =
      !isSunk(band.cycles.slice(-WINDOW_CYCLES), usual) &&
      ((isRagged(rhythm, width, p.scatter_share, p.power_share) && isUndisturbed(band.cycles)) ||
        isRaggedOfLate(band.cycles, at, usual, rhythm.scatter, p.power_share));
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
  // It goes by closed cycles; with time they only grow too old to say anything.
  staysQuiet: ({ activity, at }, _, bounds) =>
    activity?.kind !== 'hot' ||
    at - activity.since >= SETTLED_MILLIS ||
    bounds.until(activity.since + SETTLED_MILLIS),
});
