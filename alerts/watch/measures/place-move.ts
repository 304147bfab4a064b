// How a probe of a place moved at once, for two of them that changed places: each is where the other was.

import { MILLIS_PER_MINUTE } from '../../../wax/units.ts';

/** From a temperature to another, °C; `since` and `at`: its first and its newest reading, epoch milliseconds. */
export interface PlaceMove {
  readonly since: number;
  readonly at: number;
  readonly from: number;
  readonly to: number;
}

/** Kelvins; less is a door, or the lag of one probe behind the other. */
const LEAST_MOVE = 1;
/** A probe that hangs somewhere else takes some minutes to show it; what goes on for longer is the place itself. */
const LONGEST_MILLIS = 15 * MILLIS_PER_MINUTE;
/** Between two readings of one move. */
const PAUSE_MILLIS = 5 * MILLIS_PER_MINUTE;
/** A thermostat moves each of them meanwhile: share of the move, and the most of it in kelvins. */
const ALIKE_SHARE = 0.3;
const ALIKE_MOST = 1.5;

/** @param noise what no noise of its probe reaches, kelvins */
export function moveStep(
  before: PlaceMove | undefined,
  at: number,
  from: number,
  to: number,
  noise: number,
): PlaceMove | undefined {
  const goesOn =
    before !== undefined &&
    at - before.at <= PAUSE_MILLIS &&
    at - before.since <= LONGEST_MILLIS &&
    Math.sign(to - from) === Math.sign(before.to - before.from);
  if (goesOn) return { ...before, at, to };
  return Math.abs(to - from) >= Math.max(LEAST_MOVE, noise) ? { since: at, at, from, to } : before;
}

/** Whether each went to where the other was. */
export function areMirrored(first: PlaceMove, second: PlaceMove): boolean {
  const size = Math.min(Math.abs(first.to - first.from), Math.abs(second.to - second.from));
  const alike = Math.min(ALIKE_MOST, ALIKE_SHARE * size);
  return Math.abs(first.to - second.from) <= alike && Math.abs(first.from - second.to) <= alike;
}
