// How far a heater that has long been off stands from each of the places around it. What gives off no heat takes on the
// temperature of the room, so the differences stay what they usually are; where most of them creep away, its probe drifts.
// Where one does, it may be the probe of that place.

import { MILLIS_PER_MINUTE } from '../../../wax/units.ts';

/** Plain JSON, replaced as a whole each ten minutes at rest. Kelvins above one place. */
export interface Rest {
  /** The newest difference, and when it was measured. */
  readonly kelvins: number;
  readonly at: number;
  readonly usual: number;
  /** Stretches of ten minutes that the usual difference rests on. */
  readonly learned: number;
}

/** A night sets the usual difference; later it follows slowly, by a seasonal shift but not by a drift of days. */
const GAIN_LEAST = 1 / 400;
const FIRST_STRETCHES = 60;
/** Kelvins further off than nights differ: followed slowly from the beginning, or the first night of a drift would be usual. */
const UNLIKE = 0.6;
/** Stretches of which it is known that they are alike. */
const FEWEST_ALIKE = 6;
/** An older one proves nothing about now. */
const FRESH_MILLIS = 30 * MILLIS_PER_MINUTE;

/**
 * @param now kelvins above the place
 * @param lately the same against what the place was of late: a pot follows the air around it hours later, so of these the one
 * that is nearest to the usual counts
 */
export function restStep(
  rest: Rest | undefined,
  at: number,
  now: number,
  lately: { readonly least: number; readonly most: number } = { least: now, most: now },
): Rest {
  if (rest === undefined) return { kelvins: now, at, usual: now, learned: 1 };
  const kelvins = Math.min(Math.max(rest.usual, lately.least), lately.most);
  const learned = rest.learned + 1;
  const isUnlike = rest.learned >= FEWEST_ALIKE && Math.abs(kelvins - rest.usual) > UNLIKE;
  const gain = learned <= FIRST_STRETCHES && !isUnlike ? 1 / learned : GAIN_LEAST;
  return { kelvins, at, learned, usual: rest.usual + gain * (kelvins - rest.usual) };
}

/** Kelvins away from the usual difference to one place; null while none is known, or the heater is not at rest. */
const shiftFrom = (rest: Rest, now: number, fewest: number, freshMillis: number): number | null =>
  rest.learned < fewest || now - rest.at > freshMillis ? null : rest.kelvins - rest.usual;

/** The same by most of the places, of two by the one from which it is shifted less. */
export function restShift(
  rests: Iterable<Rest>,
  now: number,
  fewest: number,
  freshMillis = FRESH_MILLIS,
): number | null {
  const shifts = [...rests].flatMap((rest) => shiftFrom(rest, now, fewest, freshMillis) ?? []);
  shifts.sort((first, second) => Math.abs(first) - Math.abs(second));
  return shifts[Math.floor((shifts.length - 1) / 2)] ?? null;
}
