// Five signs that a thermostat's contact bounces or its element gives less than it did, in the newest cycles at which nobody
// worked: ragged tops with less power, long cycles that wander to both sides, tops that stray while only its rises are slow,
// plainly missing power, and rises that are cut short.

import { median } from '../../../../wax/numbers/median.ts';
import { type HeatCycle, paceOf, type UsualBand } from '../../measures/heater-band.ts';
import type { Rhythm } from '../../measures/rhythm.ts';

/** A heater's cycles, the newest last, with what is usual for it. */
interface HeaterCycles {
  readonly cycles: readonly HeatCycle[];
  readonly at: number;
  readonly usual: UsualBand;
  readonly rhythm: Rhythm;
}

/** `scatter_share` of the usual band, `power_share` of the usual power. */
interface UnevenShares {
  readonly scatter_share: number;
  readonly power_share: number;
}

export const periodOf = ({
  riseSeconds,
  fallSeconds,
}: Pick<HeatCycle, 'riseSeconds' | 'fallSeconds'>): number => riseSeconds + fallSeconds;

/**
 * Of the usual band above its low end. A contact that bounces turns within the band; tops below are those of a pot that
 * loses more than usual: cold pieces, a lid off.
 */
const SUNK_SHARE = 0.3;
export const isSunk = (cycle: HeatCycle, { high, low }: UsualBand): boolean =>
  cycle.high < low + SUNK_SHARE * (high - low);

const isWithin = (value: number, [least, most]: readonly [number, number]): boolean =>
  value > least && value < most;

/** So many cycles are enough where they lose power and their tops differ, and they may be longer than usual. */
const RAGGED_CYCLES = 4;
const RAGGED_USUAL_PERIODS = 20;
const LEAST_SCATTER = 0.3;
const TIMES_USUAL_SCATTER = 3;
/** A coarse probe reads even tops as one value or the next; that makes no more than two. */
const FEWEST_TOPS = 3;

/** The newest cycles, where they are not long ago and nobody worked in them; null otherwise. */
function calmCycles({ at, cycles, usual }: HeaterCycles, count: number): readonly HeatCycle[] | null {
  const newest = cycles.slice(-count);
  const isNew = at - (newest[0]?.at ?? 0) < RAGGED_USUAL_PERIODS * 1000 * periodOf(usual);
  return newest.length === count && isNew && !newest.some(({ disturbed }) => disturbed) ? newest : null;
}

/** Kelvins beyond which a top is no usual one. */
const unusualBy = ({ rhythm, usual }: HeaterCycles, share: number, leastKelvins: number): number =>
  Math.max(leastKelvins, share * (usual.high - usual.low), TIMES_USUAL_SCATTER * rhythm.scatter);

/** Kelvins from one top to the next, to either side. */
const medianDifference = (cycles: readonly HeatCycle[]): number =>
  median(cycles.slice(1).map(({ high }, index) => Math.abs(high - (cycles[index]?.high ?? high))));

/** Whether one top lies further from the next than it ever does, at most of the cycles. */
function topsDiffer(newest: readonly HeatCycle[], heater: HeaterCycles, share: number): boolean {
  const least = unusualBy(heater, share, LEAST_SCATTER);
  return new Set(newest.map(({ high }) => high)).size >= FEWEST_TOPS && medianDifference(newest) > least;
}

/**
 * A bounce interrupts the heating and turns it at another temperature each time. A cold piece slows the rise and hastens the
 * fall; both together are what the heater gives.
 */
export function isRagged(heater: HeaterCycles, { power_share, scatter_share }: UnevenShares): boolean {
  const { rhythm, usual } = heater;
  const newest = calmCycles(heater, RAGGED_CYCLES);
  if (newest === null || newest.some((cycle) => isSunk(cycle, usual))) return false;
  if (median(newest.map(paceOf)) - rhythm.pace >= Math.log(power_share)) return false;
  return topsDiffer(newest, heater, scatter_share);
}

/** Where turns are as wide as these the lag of its probe hides how much power is missing; more cycles are asked for. */
const WANDERING_CYCLES = 6;
const FEWEST_ABOVE = 2;
const LEAST_ABOVE = 0.2;
const MOST_SUNK = 2;

/** With less power its cycles take longer, and it turns above the usual tops as well as below; work takes it only below. */
export function wanders(heater: HeaterCycles, { power_share, scatter_share }: UnevenShares): boolean {
  const { usual } = heater;
  const newest = calmCycles(heater, WANDERING_CYCLES);
  if (newest === null || newest.filter((cycle) => isSunk(cycle, usual)).length > MOST_SUNK) return false;
  const above = unusualBy(heater, scatter_share, LEAST_ABOVE);
  if (newest.filter(({ high }) => high > usual.high + above).length < FEWEST_ABOVE) return false;
  const isSlower = median(newest.map(periodOf)) * power_share > periodOf(usual);
  return isSlower && topsDiffer(newest, heater, scatter_share);
}

const LEAST_STRAY = 0.25;
const FEWEST_STRAY = 2;
const FEWEST_BEFORE = 6;
const STRAY_FALLS = [0.7, 1.3] as const;
const SLOW_RISE = 0.85;

/** Median kelvins a second of the rises or falls, over the usual. */
export function rateOf(
  cycles: readonly HeatCycle[],
  usual: UsualBand,
  half: 'riseSeconds' | 'fallSeconds',
): number {
  const rates = cycles.map((cycle) => (cycle.high - cycle.low) / cycle[half]);
  return (median(rates) * usual[half]) / (usual.high - usual.low);
}

/**
 * A lagging probe and short cycles blur how much power is missing; but its tops stray to where they never were, while it falls
 * as ever and rises more slowly. Work hastens the falls and takes tops only below; tops before count beside the usual ones,
 * which cold pieces drag down.
 */
export function strays(heater: HeaterCycles, { scatter_share }: UnevenShares): boolean {
  const { cycles, usual } = heater;
  const newest = calmCycles(heater, WANDERING_CYCLES);
  const before = cycles.slice(0, -WANDERING_CYCLES);
  if (newest === null || before.length < FEWEST_BEFORE) return false;
  const least = unusualBy(heater, scatter_share, LEAST_STRAY);
  const highest = Math.max(usual.high, median(before.map(({ high }) => high)));
  if (!newest.some(({ high }) => high > highest + least)) return false;
  if (newest.filter(({ high }) => Math.abs(high - usual.high) > least).length < FEWEST_STRAY) return false;
  return (
    medianDifference(newest) > least &&
    isWithin(rateOf(newest, usual, 'fallSeconds'), STRAY_FALLS) &&
    rateOf(newest, usual, 'riseSeconds') < SLOW_RISE
  );
}

/**
 * Fewer are enough where the power that is missing is plain: it rises far more slowly and falls as ever. More wax slows both,
 * and a lid off hastens the fall.
 */
const SLOW_CYCLES = 3;
/** Kelvins; of a narrower band a step of the probe is too large a part. */
const SLOW_LEAST_BAND = 2.2;
const SLOW_SHARE = 0.9;
const SLOW_WIDTHS = [0.6, 1.6] as const;
const USUAL_FALLS = [0.8, 1.25] as const;

export function lacksPower(heater: HeaterCycles, { power_share }: UnevenShares): boolean {
  const { rhythm, usual } = heater;
  const newest = calmCycles(heater, SLOW_CYCLES);
  const width = usual.high - usual.low;
  if (newest === null || width < SLOW_LEAST_BAND) return false;
  if (!newest.every(({ high, low }) => isWithin((high - low) / width, SLOW_WIDTHS))) return false;
  const usualFall = width / usual.fallSeconds;
  const falls = newest.map(({ fallSeconds, high, low }) => (high - low) / fallSeconds / usualFall);
  if (!isWithin(median(falls), USUAL_FALLS)) return false;
  return median(newest.map(paceOf)) - rhythm.pace < Math.log(SLOW_SHARE * power_share);
}

const INTERRUPTED_CYCLES = 3;
/** Kelvins; in a narrower band a turn within it and one below it are the same. */
const INTERRUPTED_LEAST_BAND = 1.5;
const SHORT_SHARE = 0.2;
const SLOW_FALL = 0.7;

/** Kelvins a second. */
const fallOf = ({ fallSeconds, high, low }: Pick<HeatCycle, 'fallSeconds' | 'high' | 'low'>): number =>
  (high - low) / fallSeconds;

/**
 * A contact that bounces turns a rise within the band, before it is where the thermostat turns it off, and goes on heating in
 * part: it falls more slowly than it ever does without heat. The next top may lie as far above the usual ones. Work hastens the
 * falls, and a knob that is turned leaves them as they are.
 */
export function isInterrupted(heater: HeaterCycles, { scatter_share }: UnevenShares): boolean {
  const { cycles, usual } = heater;
  const newest = calmCycles(heater, INTERRUPTED_CYCLES);
  const before = cycles.slice(0, -INTERRUPTED_CYCLES);
  const width = usual.high - usual.low;
  if (newest === null || before.length < FEWEST_BEFORE || width < INTERRUPTED_LEAST_BAND) return false;
  const least = unusualBy(heater, Math.max(SHORT_SHARE, scatter_share), LEAST_SCATTER);
  const slow = SLOW_FALL * Math.min(fallOf(usual), median(before.map(fallOf)));
  const short = newest.filter(
    (cycle) => !isSunk(cycle, usual) && cycle.high < usual.high - least && fallOf(cycle) < slow,
  );
  const highest = Math.max(usual.high, ...before.map(({ high }) => high));
  const beyond = highest + unusualBy(heater, scatter_share, LEAST_ABOVE);
  const above = newest.filter(({ high }) => high > beyond);
  // A coarse probe reads one top as another by a step, but not as several.
  return short.length > 0 && new Set([...short, ...above].map(({ high }) => high)).size >= FEWEST_STRAY;
}
