// The lab's own test of how its wax relaxes: sticks are softened, bent to the same shape, cooled, laid at two or more
// temperatures, and how far each has opened is read over hours. Here are its data and what they must be to be fitted.
// Common practice of the trade; no standard prescribes it.

import { isTemperature } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';
import type { Celsius } from '../units.ts';

export interface OpeningReading {
  /** Hours since the stick was let go. */
  readonly hours: number;
  /** How far it has opened since then. */
  readonly millimetres: number;
}

export interface BentStick {
  /** Where it lay: one temperature, or the readings of the place by hour, first at or before hour 0. */
  readonly celsius: Celsius | readonly { readonly hours: number; readonly celsius: Celsius }[];
  readonly openings: readonly OpeningReading[];
}

export interface BentStickTest {
  readonly sticks: readonly BentStick[];
  /** Standard deviation of one reading of the opening, mm, if it is known; the scatter of the fit is used otherwise. */
  readonly readingError?: number;
}

/** Four parameters, and enough beyond them to tell a good fit from a bad one. */
const FEWEST_READINGS = 10;
const FEWEST_PER_STICK = 3;

export function checkBentStickTest(test: BentStickTest): Result<BentStickTest> {
  const { readingError } = test;
  if (readingError !== undefined && !(readingError > 0 && Number.isFinite(readingError)))
    return failure('bad-uncertainty', {}, readingError);
  let readings = 0;
  for (const [index, stick] of test.sticks.entries()) {
    const problem = problemOfStick(stick, index + 1);
    if (problem !== null) return problem;
    readings += stick.openings.length;
  }
  if (readings < FEWEST_READINGS) return failure('too-few-readings', {}, readings);
  return success(test);
}

function problemOfStick({ celsius, openings }: BentStick, number: number): Result<never> | null {
  const places = Array.isArray(celsius) ? celsius : [{ hours: 0, celsius }];
  if (places.length === 0 || (places[0]?.hours ?? 1) > 0)
    return failure('bad-stick-temperature', {}, undefined, `sticks/${number - 1}/celsius`);
  let before = -Infinity;
  for (const place of places) {
    if (!isTemperature(place.celsius))
      return failure('not-a-temperature', {}, place.celsius, `sticks/${number - 1}/celsius`);
    if (!(place.hours > before))
      return failure('times-unsorted', {}, place.hours, `sticks/${number - 1}/celsius`);
    before = place.hours;
  }
  if (openings.length < FEWEST_PER_STICK)
    return failure('too-few-readings', {}, openings.length, `sticks/${number - 1}/openings`);
  before = 0;
  for (const { hours, millimetres } of openings) {
    if (!(hours > before) || !Number.isFinite(hours))
      return failure('times-unsorted', {}, hours, `sticks/${number - 1}/openings`);
    if (!Number.isFinite(millimetres))
      return failure('bad-opening', {}, millimetres, `sticks/${number - 1}/openings`);
    before = hours;
  }
  return null;
}
