// The temperatures of one pattern, point by point: one in ten minutes and one at each change, thinned when it lies for
// weeks. What an act changes is figured from them anew, so that one which is entered late counts from its own time.

import type { CoursePoint } from '../../../wax/relaxation/relaxation.ts';
import type { MktState } from '../../../wax/heat/mean-kinetic-temperature.ts';
import type { RainflowState } from '../../../wax/numbers/rainflow.ts';
import type { RelaxationState } from '../../../wax/relaxation/relaxation.ts';
import type { Celsius, EpochMillis } from '../../../wax/units.ts';
import { startOfTenMinutes } from './ten-minutes.ts';

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

export const LONGEST_GAP_MILLIS = 15 * 60_000;
const CHANGE_CELSIUS = 0.5;
/** A fortnight; beyond it every second point of the older half is left out. */
const MOST_POINTS = 2000;

/**
 * The points after one more reading; the same array when it adds none. The newest reading of each ten minutes becomes a
 * point when the next ten minutes begin, so that a verdict as of that instant is the same whenever it is computed.
 * @param last the reading before, null for the first
 */
export function withReading(
  points: readonly HeatPoint[],
  last: NewestReading | null,
  at: number,
  celsius: number,
): readonly HeatPoint[] {
  if (last === null) return [[at, celsius]];
  const newest = points.at(-1);
  const before: readonly HeatPoint[] =
    newest !== undefined && newest[0] >= last.at ? points : [...points, [last.at, last.celsius]];
  if (at - last.at > LONGEST_GAP_MILLIS)
    return thinOut([...before, [at, celsius, Math.max(last.celsius, celsius)]]);
  if (Math.abs(celsius - (newest?.[1] ?? last.celsius)) >= CHANGE_CELSIUS)
    return thinOut([...before, [at, celsius]]);
  return startOfTenMinutes(at) > startOfTenMinutes(last.at) ? thinOut(before) : points;
}

const thinOut = (points: readonly HeatPoint[]): readonly HeatPoint[] =>
  points.length <= MOST_POINTS
    ? points
    : points.filter((point, index) => index >= MOST_POINTS / 2 || index % 2 === 0 || point.length === 3);

/** The newest reading, which may not be a point of the course yet; `at` is 0 while there was none. */
export interface NewestReading {
  readonly at: number;
  readonly celsius: number;
}

/** Whether the newest reading is to be added to points that end with `newest`. */
export const isNewer = (last: NewestReading, newest: HeatPoint | undefined): boolean =>
  newest === undefined || newest[0] < last.at;

export const coursePoint = ([at, celsius, atMostCelsius]: HeatPoint): CoursePoint =>
  atMostCelsius === undefined
    ? { at: at as EpochMillis, celsius: celsius as Celsius }
    : { at: at as EpochMillis, celsius: celsius as Celsius, atMostCelsius: atMostCelsius as Celsius };

/** Those up to an instant, with the newest reading where it is of that time. */
export function coursePoints(
  points: readonly HeatPoint[],
  last: NewestReading,
  until: number,
): readonly CoursePoint[] {
  const course: CoursePoint[] = [];
  for (const point of points) if (point[0] > 0 && point[0] <= until) course.push(coursePoint(point));
  if (isNewer(last, points.at(-1)) && last.at > 0 && last.at <= until)
    course.push(coursePoint([last.at, last.celsius]));
  return course;
}
