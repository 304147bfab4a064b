// What a probe's own readings say about the probe: unchanged for how long, how noisy, how far it jumped.

/** Plain JSON, advanced in place. */
export interface ProbeSignal {
  /** The reading before the newest; `previousAt` is 0 while there was none. */
  previousAt: number;
  previousCelsius: number;
  /** Since when, and for how many readings, the value has been exactly the same. */
  sameSince: number;
  sameReadings: number;
  /** How far the reading before the newest lay off the line between its neighbours, as noise of one reading. */
  bend: number;
  /** Running mean of how much successive bends contradict each other, scaled to the variance of one reading. */
  roughness: number;
  roughReadings: number;
  /** The newest jump; null until there was one. */
  jump: { readonly at: number; readonly from: number; readonly to: number } | null;
}

const GAIN = 0.05;
/**
 * Noise that is new with each reading throws successive bends to opposite sides: their covariance is −2/3 of its
 * variance (second differences of independent values). Where the temperature itself turns, as under a thermostat
 * that is sampled a few times a cycle, they lie on one side or one of them is nil.
 */
const COVARIANCE_OF_BENDS = -2 / 3;
/** Readings further apart than this say nothing about noise: the temperature itself may have turned. */
const NEIGHBOURS_MILLIS = 120_000;
/** No wax, bath or room changes by this much within so short a time. Common practice. */
const JUMP_CELSIUS = 15;
const JUMP_MILLIS = 60_000;
const FEWEST_ROUGH_READINGS = 20;

export const startSignal = (at: number): ProbeSignal => ({
  previousAt: 0,
  previousCelsius: 0,
  sameSince: at,
  sameReadings: 1,
  bend: 0,
  roughness: 0,
  roughReadings: 0,
  jump: null,
});

/** One more reading; `lastAt` and `lastCelsius` are those of the reading before it. */
export function advanceSignal(
  signal: ProbeSignal,
  lastAt: number,
  lastCelsius: number,
  at: number,
  celsius: number,
): void {
  if (celsius === lastCelsius) signal.sameReadings += 1;
  else {
    signal.sameSince = at;
    signal.sameReadings = 1;
  }
  const jumped = at - lastAt <= JUMP_MILLIS && Math.abs(celsius - lastCelsius) > JUMP_CELSIUS;
  if (jumped) signal.jump = { at, from: lastCelsius, to: celsius };
  const { previousAt, previousCelsius } = signal;
  if (!jumped && previousAt > 0 && at - previousAt <= 2 * NEIGHBOURS_MILLIS) {
    const share = (lastAt - previousAt) / (at - previousAt);
    const off = lastCelsius - (previousCelsius + share * (celsius - previousCelsius));
    // Of three readings with the same noise, the variance of `off` is 1 + share² + (1 − share)² times it.
    const bend = off / Math.sqrt(1 + share * share + (1 - share) * (1 - share));
    signal.roughness += GAIN * ((bend * signal.bend) / COVARIANCE_OF_BENDS - signal.roughness);
    signal.roughReadings = Math.min(1000, signal.roughReadings + 1);
    signal.bend = bend;
  } else signal.bend = 0;
  signal.previousAt = lastAt;
  signal.previousCelsius = lastCelsius;
}

/** Standard deviation of one reading, kelvins; null while it rests on few. */
export const noiseOf = (signal: ProbeSignal): number | null =>
  signal.roughReadings < FEWEST_ROUGH_READINGS ? null : Math.sqrt(Math.max(0, signal.roughness));
