// The last few minutes of a station as a short list of values: how far it fell or rose within minutes, and what it is on
// average, where a thermostat would mislead a single value.

/** Plain JSON, advanced in place: parallel lists, oldest first. */
export interface Recent {
  at: number[];
  celsius: number[];
  /** Mean of about ten minutes, each value fading by 1/e within five. */
  mean: number;
  meanAt: number;
}

const SPACING_MILLIS = 15_000;
const KEPT = 40;
const MEAN_MEMORY_MILLIS = 300_000;

export const startRecent = (at: number, celsius: number): Recent => ({
  at: [at],
  celsius: [celsius],
  mean: celsius,
  meanAt: at,
});

export function advanceRecent(recent: Recent, at: number, celsius: number): void {
  const elapsed = at - recent.meanAt;
  const keep = elapsed > 4 * MEAN_MEMORY_MILLIS ? 0 : Math.exp(-elapsed / MEAN_MEMORY_MILLIS);
  recent.mean = celsius + keep * (recent.mean - celsius);
  recent.meanAt = at;
  const last = recent.at[recent.at.length - 1] ?? 0;
  if (at - last < SPACING_MILLIS) return;
  recent.at.push(at);
  recent.celsius.push(celsius);
  if (recent.at.length > KEPT) {
    recent.at.splice(0, KEPT / 4);
    recent.celsius.splice(0, KEPT / 4);
  }
}

/** Highest value of the last `millis` before the newest one; the newest one when there is none. */
export function highestWithin(recent: Recent, now: number, millis: number): number {
  let highest = Number.NEGATIVE_INFINITY;
  for (let index = recent.at.length - 1; index >= 0; index -= 1) {
    if (now - (recent.at[index] ?? 0) > millis) break;
    const value = recent.celsius[index] ?? highest;
    if (value > highest) highest = value;
  }
  return highest;
}

/** Lowest value of the last `millis`. */
export function lowestWithin(recent: Recent, now: number, millis: number): number {
  let lowest = Number.POSITIVE_INFINITY;
  for (let index = recent.at.length - 1; index >= 0; index -= 1) {
    if (now - (recent.at[index] ?? 0) > millis) break;
    const value = recent.celsius[index] ?? lowest;
    if (value < lowest) lowest = value;
  }
  return lowest;
}

/** Milliseconds that the list reaches back. */
export const reachOf = (recent: Recent, now: number): number => now - (recent.at[0] ?? now);

/** Long against noise, short against a climb. */
const SLOPE_MILLIS = 25_000;
const SLOPES_MILLIS = 120_000;
const EASED_SHARE = 0.5;

/**
 * Whether a climb has eased off: the newest rise has less than half the pace of the steepest one of the last two minutes, or
 * it stands no higher than before them.
 */
export function hasEasedOff(recent: Recent, now: number, celsius: number): boolean {
  const before = recent.at.findLastIndex((instant) => now - instant >= SLOPES_MILLIS);
  if (celsius <= (recent.celsius[before] ?? Number.NEGATIVE_INFINITY)) return true;
  const rateUpTo = (at: number, value: number): number => {
    const from = recent.at.findLastIndex((instant) => at - instant >= SLOPE_MILLIS);
    return (value - (recent.celsius[from] ?? Number.NaN)) / (at - (recent.at[from] ?? Number.NaN));
  };
  const rate = rateUpTo(now, celsius);
  return recent.at.some(
    (at, index) =>
      now - at <= SLOPES_MILLIS && EASED_SHARE * rateUpTo(at, recent.celsius[index] ?? 0) > Math.max(0, rate),
  );
}
