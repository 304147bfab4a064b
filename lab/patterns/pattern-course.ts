// The temperatures of one pattern as a course: what its places measured, with what people recorded of it laid over, and the
// time since the newest reading. Pure.

import {
  type CoursePoint,
  type RelaxationParameters,
  type RelaxationState,
  reducedCourse,
} from '../../wax/relaxation/relaxation.ts';
import type { ReducedCourse } from '../../wax/relaxation/reduced-course.ts';
import { type Celsius, type EpochMillis, MILLIS_PER_SECOND } from '../../wax/units.ts';
import type { StatedStretch } from './pattern-life.ts';

/** Where a pattern lay, as it was measured; plain JSON. */
export interface MeasuredHeat {
  /** Oldest first. */
  readonly points: readonly CoursePoint[];
  /** What an earlier version summed up of a time whose temperatures it did not keep. */
  readonly carried?: RelaxationState;
}

const valueAt = (points: readonly CoursePoint[], at: number): number | null => {
  const next = points.findIndex((point) => point.at >= at);
  const [before, after] = [points[next === -1 ? points.length - 1 : next - 1], points[next]];
  if (next === -1) return before?.celsius ?? null;
  if (after === undefined) return null;
  if (before === undefined || after.at === before.at) return after.celsius;
  return before.celsius + ((after.celsius - before.celsius) * (at - before.at)) / (after.at - before.at);
};

const point = (at: number, celsius: number, atMostCelsius?: number): CoursePoint => ({
  at: at as EpochMillis,
  celsius: celsius as Celsius,
  ...(atMostCelsius !== undefined && { atMostCelsius: atMostCelsius as Celsius }),
});

/** One stretch laid over the points; a stated temperature is taken on within a second. */
function overlay(points: readonly CoursePoint[], stretch: StatedStretch): readonly CoursePoint[] {
  const { from, to, celsius, atMostCelsius, isOpen } = stretch;
  if (to <= from) return points;
  const [start, end] = [valueAt(points, from), valueAt(points, to)];
  const before = points.filter((point) => point.at < from);
  const after = points.filter((point) => point.at > to);
  if (celsius === null) {
    const level = start ?? end;
    if (level === null) return points;
    return [...before, point(from, level), point(to, end ?? level, atMostCelsius), ...after];
  }
  const second = Math.min(MILLIS_PER_SECOND, (to - from) / 4);
  return [
    ...before,
    ...(start === null || before.length === 0 ? [] : [point(from, start)]),
    point(from + second, celsius),
    ...(isOpen
      ? [point(to, celsius)]
      : [point(to - second, celsius), ...(end === null ? [] : [point(to, end)])]),
    ...after,
  ];
}

/** Up to an instant: the points before it, and the last one carried on to it, as a gap when that is long. */
function cutAt(
  points: readonly CoursePoint[],
  at: EpochMillis,
  longestGapSeconds: number,
): readonly CoursePoint[] {
  const before = points.filter((point) => point.at <= at);
  const last = before.at(-1);
  const next = points[before.length];
  if (last === undefined || last.at === at) return before;
  if (next !== undefined && next.atMostCelsius === undefined)
    return [...before, point(at, valueAt(points, at) ?? last.celsius)];
  const isGap = (at - last.at) / MILLIS_PER_SECOND > longestGapSeconds;
  return [...before, point(at, last.celsius, isGap ? last.celsius : undefined)];
}

/** Null where not one temperature is known of it. */
export function patternCourse(
  madeAt: EpochMillis,
  { points, carried }: MeasuredHeat,
  stated: readonly StatedStretch[],
  params: RelaxationParameters,
  at: EpochMillis,
): ReducedCourse | null {
  const cut = cutAt(points, at, params.longestGap);
  const whole = stated.reduce(overlay, cut);
  return reducedCourse(madeAt, whole, params.rate, carried ?? null);
}
