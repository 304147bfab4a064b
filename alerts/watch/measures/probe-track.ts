// What a probe's own readings say about the probe: unchanged for how long, how noisy, how far it jumped.

/** Plain JSON. */
export interface ProbeTrack {
  /** The reading before the newest; null at first. */
  readonly previous: { readonly at: number; readonly celsius: number } | null;
  /** Since when, and for how many readings, the value has been exactly the same. */
  readonly sameSince: number;
  readonly sameReadings: number;
  /** How far the reading before the newest lay off the line between its neighbours, as noise of one reading. */
  readonly bend: number;
  /** Running mean of how much successive bends contradict each other, scaled to the variance of one reading. */
  readonly roughness: number;
  readonly roughReadings: number;
  /** The newest jump; null until there was one. */
  readonly jump: { readonly at: number; readonly from: number; readonly to: number } | null;
}

const GAIN = 0.05;
/**
 * Noise that is new with each reading throws successive bends to opposite sides: their covariance is −2/3 of its
 * variance (second differences of independent values). Where the temperature itself turns, as under a thermostat
 * that is sampled a few times a cycle, they lie on one side or one of them is nil.
 */
const COVARIANCE_OF_BENDS = -2 / 3;
/** Readings further apart than this say nothing about noise: the temperature itself may have turned. */
const NEIGHBOURS_SECONDS = 120;
/** No wax, bath or room changes by this much within so short a time. Common practice. */
const JUMP_CELSIUS = 15;
const JUMP_SECONDS = 60;

export const trackStart = (at: number): ProbeTrack => ({
  previous: null,
  sameSince: at,
  sameReadings: 1,
  bend: 0,
  roughness: 0,
  roughReadings: 0,
  jump: null,
});

/** `last` is the reading before this one. */
export function trackStep(
  track: ProbeTrack,
  last: { readonly at: number; readonly celsius: number },
  at: number,
  celsius: number,
): ProbeTrack {
  const isSame = celsius === last.celsius;
  const seconds = (at - last.at) / 1000;
  const jumped = seconds <= JUMP_SECONDS && Math.abs(celsius - last.celsius) > JUMP_CELSIUS;
  const { previous } = track;
  const isNeighbour = !jumped && previous !== null && at - previous.at <= 2 * NEIGHBOURS_SECONDS * 1000;
  const bend = isNeighbour && previous !== null ? bendOf(previous, last, at, celsius) : 0;
  return {
    previous: last,
    sameSince: isSame ? track.sameSince : at,
    sameReadings: isSame ? track.sameReadings + 1 : 1,
    bend,
    roughness: isNeighbour
      ? track.roughness + GAIN * ((bend * track.bend) / COVARIANCE_OF_BENDS - track.roughness)
      : track.roughness,
    roughReadings: isNeighbour ? Math.min(1000, track.roughReadings + 1) : track.roughReadings,
    jump: jumped ? { at, from: last.celsius, to: celsius } : track.jump,
  };
}

/** How far the middle one of three readings lies off the line between its neighbours, as noise of one reading. */
function bendOf(
  first: { readonly at: number; readonly celsius: number },
  middle: { readonly at: number; readonly celsius: number },
  at: number,
  celsius: number,
): number {
  const share = (middle.at - first.at) / (at - first.at);
  const off = middle.celsius - (first.celsius + share * (celsius - first.celsius));
  // Of three readings with the same noise, the variance of `off` is 1 + share² + (1 − share)² times it.
  return off / Math.sqrt(1 + share * share + (1 - share) * (1 - share));
}

/** Standard deviation of one reading, °C; null while it rests on few. */
export const noiseOf = (track: ProbeTrack): number | null =>
  track.roughReadings < 20 ? null : Math.sqrt(Math.max(0, track.roughness));
