// What one place or pattern went through, in figures, from the store's buckets. Minimum and maximum are of single
// readings; swings, mean kinetic temperature and minutes rest on the means of the buckets. Pure.

import type { SeriesBucket } from '../../../collector/store/store.ts';
import { mktStart, mktStep, mktValue } from '../../../wax/heat/mean-kinetic-temperature.ts';
import { type Cycle, rainflowResidue, rainflowStart, rainflowStep } from '../../../wax/numbers/rainflow.ts';
import { type Celsius, type EpochMillis, MILLIS_PER_MINUTE, type Seconds } from '../../../wax/units.ts';
import type { HeatFigures } from '../../api/night.ts';
import { iso } from '../../../wax/iso.ts';

/** A longer time without readings is a gap. Common practice: a storage place changes no faster. */
export const LONGEST_GAP_MILLIS = 15 * MILLIS_PER_MINUTE;
/** A smaller range is the heating's hum and not a swing. Common practice. */
const LEAST_SWING_CELSIUS = 1;

export interface MeasuredSpan {
  /** Oldest first. */
  readonly buckets: readonly SeriesBucket[];
  readonly widthMillis: number;
  readonly from: EpochMillis;
  readonly to: EpochMillis;
}

const gapsOf = ({ buckets, widthMillis, from, to }: MeasuredSpan): HeatFigures['gaps'] => {
  // A bucket stands for its width; two that touch are no gap, however wide they are.
  const gaps: { from: string; to: string; minutes: number }[] = [];
  const look = (start: number, end: number): void => {
    if (end - start > LONGEST_GAP_MILLIS)
      gaps.push({ from: iso(start), to: iso(end), minutes: (end - start) / MILLIS_PER_MINUTE });
  };
  let covered: number = from;
  for (const bucket of buckets) {
    look(covered, bucket.at);
    covered = bucket.at + widthMillis;
  }
  look(covered, to);
  return gaps;
};

const swingsOf = (buckets: readonly SeriesBucket[]): readonly Cycle[] => {
  let state = rainflowStart();
  const cycles: Cycle[] = [];
  for (const { mean } of buckets) {
    const step = rainflowStep(state, mean);
    state = step.state;
    cycles.push(...step.cycles);
  }
  return [...cycles, ...rainflowResidue(state)].filter(({ range }) => range >= LEAST_SWING_CELSIUS);
};

/** Minutes in which the mean passes the test. A bucket holds until the next one, but over no gap. */
export const minutesWhere = (
  { buckets, widthMillis, to }: Omit<MeasuredSpan, 'from'>,
  test: (mean: number, at: EpochMillis) => boolean,
): number => {
  let millis = 0;
  for (const [index, { at, mean }] of buckets.entries()) {
    if (!test(mean, at)) continue;
    const next = buckets[index + 1]?.at ?? to;
    const isGap = next - at - widthMillis > LONGEST_GAP_MILLIS;
    millis += isGap ? widthMillis : Math.max(0, next - at);
  }
  return millis / MILLIS_PER_MINUTE;
};

/** @param storageMaxAt the limit that held at an instant, °C; null where none did */
export const heatFigures = (
  measured: MeasuredSpan,
  storageMaxAt: (at: EpochMillis) => number | null,
): HeatFigures => {
  const { buckets, widthMillis } = measured;
  let mkt = mktStart({ longestGap: ((LONGEST_GAP_MILLIS + widthMillis) / 1000) as Seconds });
  for (const { at, mean } of buckets) mkt = mktStep(mkt, at, mean as Celsius);
  const cycles = swingsOf(buckets);
  const gaps = gapsOf(measured);
  const count = buckets.reduce((sum, bucket) => sum + bucket.count, 0);
  const none = buckets.length === 0;
  return {
    readings: count,
    minCelsius: none ? null : Math.min(...buckets.map(({ min }) => min)),
    maxCelsius: none ? null : Math.max(...buckets.map(({ max }) => max)),
    meanKineticCelsius: mktValue(mkt),
    swings: cycles.reduce((sum, cycle) => sum + cycle.count, 0),
    largestSwingCelsius: cycles.reduce((most, { range }) => Math.max(most, range), 0),
    minutesOutOfBand: minutesWhere(
      measured,
      (mean, at) => mean > (storageMaxAt(at) ?? Number.POSITIVE_INFINITY),
    ),
    gaps,
    gapMinutes: gaps.reduce((sum, { minutes }) => sum + minutes, 0),
    doubtfulShare: count === 0 ? 0 : buckets.reduce((sum, bucket) => sum + bucket.doubtful, 0) / count,
  };
};
