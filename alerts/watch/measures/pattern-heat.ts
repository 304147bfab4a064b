// The temperatures of one pattern, point by point: one in ten minutes and one at each change, thinned when it lies for
// weeks. What is figured from them is figured anew each time, so that an act which is entered late counts from its own time.

import type { CoursePoint } from '../../../wax/relaxation/relaxation.ts';
import { mktStart, mktStep, type MktState, mktValue } from '../../../wax/heat/mean-kinetic-temperature.ts';
import {
  rainflowResidue,
  rainflowStart,
  type RainflowState,
  rainflowStep,
} from '../../../wax/numbers/rainflow.ts';
import type { RelaxationState } from '../../../wax/relaxation/relaxation.ts';
import type { Celsius, EpochMillis, Seconds } from '../../../wax/units.ts';
import { TEN_MINUTES_MILLIS } from './ten-minutes.ts';

/** Instant, °C, and where nothing was measured before it how warm it may have been; plain JSON. */
export type HeatPoint =
  | readonly [at: number, celsius: number]
  | readonly [at: number, celsius: number, atMostCelsius: number];

/** What an earlier version summed up of a time whose temperatures it did not keep. */
export interface CarriedHeat {
  readonly relaxation: RelaxationState;
  readonly mkt: MktState;
  readonly rainflow: RainflowState;
  readonly swings: number;
  readonly largestSwing: number;
  readonly minutesTooWarm: number;
}

const LONGEST_GAP_MILLIS = 15 * 60_000;
const CHANGE_CELSIUS = 0.5;
/** A fortnight; beyond it every second point of the older half is left out. */
const MOST_POINTS = 2000;
/** A smaller range is the heating's hum and not a swing. Common practice. */
const LEAST_SWING = 1;

export const slotOf = (at: number): number => at - (at % TEN_MINUTES_MILLIS);

/**
 * The points after one more reading; the same array when it adds none. The newest reading of each ten minutes becomes a
 * point when the next ten minutes begin, so that a verdict as of that instant is the same whenever it is computed.
 * @param last the reading before, null for the first
 */
export function withReading(
  points: readonly HeatPoint[],
  last: { readonly at: number; readonly celsius: number } | null,
  at: number,
  celsius: number,
): readonly HeatPoint[] {
  if (last === null) return [[at, celsius]];
  const newest = points.at(-1);
  const before: readonly HeatPoint[] =
    newest !== undefined && newest[0] >= last.at ? points : [...points, [last.at, last.celsius]];
  if (at - last.at > LONGEST_GAP_MILLIS)
    return thinned([...before, [at, celsius, Math.max(last.celsius, celsius)]]);
  if (Math.abs(celsius - (newest?.[1] ?? last.celsius)) >= CHANGE_CELSIUS)
    return thinned([...before, [at, celsius]]);
  return slotOf(at) > slotOf(last.at) ? thinned(before) : points;
}

const thinned = (points: readonly HeatPoint[]): readonly HeatPoint[] =>
  points.length <= MOST_POINTS
    ? points
    : points.filter((point, index) => index >= MOST_POINTS / 2 || index % 2 === 0 || point.length === 3);

/** Those up to an instant, with the newest reading where it is of that time. */
export const coursePoints = (
  points: readonly HeatPoint[],
  last: { readonly at: number; readonly celsius: number },
  until: number,
): readonly CoursePoint[] => {
  const newest = points.at(-1);
  const all: readonly HeatPoint[] =
    newest === undefined || newest[0] < last.at ? [...points, [last.at, last.celsius]] : points;
  return all
    .filter(([at]) => at <= until && at > 0)
    .map(([at, celsius, atMostCelsius]) => ({
      at: at as EpochMillis,
      celsius: celsius as Celsius,
      ...(atMostCelsius !== undefined && { atMostCelsius: atMostCelsius as Celsius }),
    }));
};

export interface HeatSums {
  readonly meanKineticCelsius: number | null;
  readonly swings: number;
  readonly largestSwingCelsius: number;
}

/** Mean kinetic temperature and the swings, by rainflow. */
export function heatSums(points: readonly CoursePoint[], carried: CarriedHeat | null): HeatSums {
  let mkt = carried?.mkt ?? mktStart({ longestGap: (LONGEST_GAP_MILLIS / 1000) as Seconds });
  let rainflow = carried?.rainflow ?? rainflowStart();
  let swings = carried?.swings ?? 0;
  let largestSwingCelsius = carried?.largestSwing ?? 0;
  for (const { at, celsius } of points) {
    mkt = mktStep(mkt, at, celsius);
    const counted = rainflowStep(rainflow, celsius);
    rainflow = counted.state;
    for (const { count, range } of counted.cycles)
      if (range >= LEAST_SWING) {
        swings += count;
        largestSwingCelsius = Math.max(largestSwingCelsius, range);
      }
  }
  // The greatest swing of a history stays open until a greater one closes it.
  for (const { count, range } of rainflowResidue(rainflow))
    if (range >= LEAST_SWING) {
      swings += count;
      largestSwingCelsius = Math.max(largestSwingCelsius, range);
    }
  return { meanKineticCelsius: mktValue(mkt), swings, largestSwingCelsius };
}
