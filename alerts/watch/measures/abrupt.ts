// A step out of the motion of the minutes before: far more, within a minute, than the value moved in any such span until then.

import type { Recent } from './recent.ts';

export interface AbruptMove {
  /** From where it stood before it to where it stands now, °C. */
  readonly from: number;
  readonly to: number;
  /** The step over the furthest move in as long a span of the minutes before. */
  readonly times: number;
  /** That furthest move, kelvins. */
  readonly before: number;
}

/** Kelvins; less is noise and a coarse step. */
const LEAST_MOVE = 1;
const LEAST_BEFORE = 0.1;
/** Share of the step that must still be there. */
const LASTING_SHARE = 0.6;
/** A slow probe shares the step among the readings of so long. */
const STEP_MILLIS = 65_000;
const FEWEST_BEFORE = 6;

/** The furthest move over so many values, of those up to `end`. */
function findFurthest(celsius: readonly number[], end: number, span: number): number {
  let furthest = LEAST_BEFORE;
  for (let index = span; index <= end; index += 1)
    furthest = Math.max(furthest, Math.abs((celsius[index] ?? 0) - (celsius[index - span] ?? 0)));
  return furthest;
}

/**
 * The most abrupt step that ended within the last `withinMillis`; null where there is none.
 * @param recent the last ten minutes
 */
export function findAbruptMove(
  recent: Recent,
  now: number,
  present: number,
  withinMillis: number,
): AbruptMove | null {
  const times = [...recent.at, now];
  const celsius = [...recent.celsius, present];
  let sharpest: AbruptMove | null = null;
  for (let end = times.length - 1; end > 0 && now - (times[end] ?? 0) <= withinMillis; end -= 1)
    for (let start = end - 1; start >= FEWEST_BEFORE; start -= 1) {
      if ((times[end] ?? 0) - (times[start] ?? 0) > STEP_MILLIS) break;
      const from = celsius[start] ?? 0;
      const step = (celsius[end] ?? 0) - from;
      if (Math.abs(step) < LEAST_MOVE || (present - from) * Math.sign(step) < LASTING_SHARE * Math.abs(step))
        continue;
      const before = findFurthest(celsius, start, end - start);
      const ratio = Math.abs(step) / before;
      if (ratio > (sharpest?.times ?? 0)) sharpest = { from, to: present, times: ratio, before };
    }
  return sharpest;
}
