// What a probe's own readings show of the probe. A reading that no wax, bath or room can have made from the one before
// is doubted until a second one bears it out, so that a loose contact neither raises nor ends an alarm.

/** Plain JSON, advanced in place. Temperatures in °C, instants in epoch milliseconds. */
export interface ProbeSignal {
  /** The newest reading that was accepted. */
  at: number;
  celsius: number;
  /** The one before it; `previousAt` is 0 while there was none. */
  previousAt: number;
  previousCelsius: number;
  /** Readings in a row that are doubted, and the newest of them; 0: the newest reading was accepted. */
  doubted: number;
  doubtedAt: number;
  doubtedCelsius: number;
  /** Lone doubted readings, fading within an hour. */
  spikes: number;
  spikeAt: number;
  /** The newest step that was accepted at last: the probe was moved, swapped or put back. */
  step: { readonly at: number; readonly from: number; readonly to: number } | null;
  /** Since when, and for how many readings, the value has been exactly the same. */
  sameSince: number;
  sameReadings: number;
  /** Longest stretch without any change, in milliseconds: at rest, and while a heater is at work. */
  longestSame: number;
  longestSameAtWork: number;
  /** Smallest step between two readings so far, kelvins: its resolution; 0 while unknown. */
  smallestStep: number;
  /** First reading, and changes of the value so far. */
  since: number;
  changes: number;
  changesAtWork: number;
  /** Readings and changes while no heater is at work. Absent in states stored before they were counted. */
  readingsAtRest?: number;
  changesAtRest?: number;
  /** How far the reading before the newest lay off the line between its neighbours, as noise of one reading. */
  bend: number;
  /** Running mean of how much successive bends contradict each other, scaled to the variance of one reading. */
  roughness: number;
  roughReadings: number;
}

const GAIN = 0.05;
/**
 * Noise that is new with each reading throws successive bends to opposite sides: their covariance is −2/3 of its
 * variance (second differences of independent values). Where the temperature itself turns, as under a thermostat
 * that is sampled a few times a cycle, they lie on one side or one of them is nil.
 */
const COVARIANCE_OF_BENDS = -2 / 3;
/** Readings further apart than this prove nothing about noise: the temperature itself may have turned. */
const NEIGHBOURS_MILLIS = 120_000;
const FEWEST_ROUGH_READINGS = 20;
/** No probe sends less often: between readings further apart something was missing. */
const UNSEEN_MILLIS = 4_200_000;
/** Lone spikes are forgotten within this. */
const SPIKE_MEMORY_MILLIS = 3_600_000;
/** Two doubted readings bear each other out when they are as near as this, kelvins. */
const ALIKE_CELSIUS = 4;
/** A probe that has been jumping must stay this many readings before a step is accepted. */
const READINGS_AFTER_SPIKES = 6;
const SPIKES_OF_A_LOOSE_PROBE = 2.5;

/** The fastest that the temperature of a place can change, and the slack on top. Common practice, engineering estimate. */
export interface PlausibleChange {
  readonly celsiusPerSecond: number;
  readonly celsius: number;
  /** Two doubted readings so many seconds apart may differ by this much more; absent: by nothing. */
  readonly alikePerSecond?: number;
  /** Nothing changes on at that pace for longer, however far apart readings are; absent: no end. */
  readonly mostSeconds?: number;
}
/** Half a kilogram of wax at 500 W rises by 0.45 K/s; twice that is given. */
export const HEATER_CHANGE: PlausibleChange = { celsiusPerSecond: 1, celsius: 5 };
/** Air at an opened window falls by a few kelvins a minute, and after some minutes is near what comes in. */
export const PLACE_CHANGE: PlausibleChange = { celsiusPerSecond: 0.05, celsius: 2.5, mostSeconds: 150 };
/** Readings further apart than this are compared as if nobody had seen the place. */
const PLACE_UNSEEN_SECONDS = 900;
/** The thermocouple of a furnace is in its air, which an opened door changes by a hundred kelvins in seconds. */
export const FURNACE_CHANGE: PlausibleChange = { celsiusPerSecond: 10, celsius: 50 };

export const startSignal = (at: number, celsius: number): ProbeSignal => ({
  at,
  celsius,
  previousAt: 0,
  previousCelsius: 0,
  doubted: 0,
  doubtedAt: 0,
  doubtedCelsius: 0,
  spikes: 0,
  spikeAt: 0,
  step: null,
  sameSince: at,
  sameReadings: 1,
  longestSame: 0,
  longestSameAtWork: 0,
  smallestStep: 0,
  since: at,
  changes: 0,
  changesAtWork: 0,
  readingsAtRest: 0,
  changesAtRest: 0,
  bend: 0,
  roughness: 0,
  roughReadings: 0,
});

/** Takes one more reading in; true when it is accepted and `signal.celsius` is its value. */
export function advanceSignal(
  signal: ProbeSignal,
  at: number,
  celsius: number,
  change: PlausibleChange,
  isAtWork: boolean,
): boolean {
  const limit = change.celsius + change.celsiusPerSecond * changingSeconds(change, (at - signal.at) / 1000);
  if (Math.abs(celsius - signal.celsius) <= limit) {
    if (signal.doubted > 0 && signal.doubted < 3 && !goesOn(signal, celsius)) countSpike(signal, at);
    signal.doubted = 0;
    believe(signal, at, celsius, isAtWork);
    return true;
  }
  const alike = ALIKE_CELSIUS + ((change.alikePerSecond ?? 0) * (at - signal.doubtedAt)) / 1000;
  const isBorneOut = signal.doubted > 0 && Math.abs(celsius - signal.doubtedCelsius) <= alike;
  if (signal.doubted > 0 && !isBorneOut && !goesOn(signal, celsius)) countSpike(signal, at);
  signal.doubted = isBorneOut ? signal.doubted + 1 : 1;
  signal.doubtedAt = at;
  signal.doubtedCelsius = celsius;
  const needed = spikesAt(signal, at) >= SPIKES_OF_A_LOOSE_PROBE ? READINGS_AFTER_SPIKES : 2;
  if (signal.doubted < needed) return false;
  signal.step = { at, from: signal.celsius, to: celsius };
  signal.doubted = 0;
  signal.previousAt = 0;
  signal.bend = 0;
  signal.at = at;
  signal.celsius = celsius;
  signal.sameSince = at;
  signal.sameReadings = 1;
  return true;
}

/** On the way that it leapt, and slower: a probe in hot water that was poured in. A loose contact comes back. */
function goesOn({ celsius: before, doubtedCelsius }: ProbeSignal, celsius: number): boolean {
  const leapt = doubtedCelsius - before;
  const further = (celsius - doubtedCelsius) * Math.sign(leapt);
  return further > 0 && further < Math.abs(leapt);
}

const changingSeconds = ({ mostSeconds }: PlausibleChange, seconds: number): number =>
  mostSeconds === undefined || seconds > PLACE_UNSEEN_SECONDS ? seconds : Math.min(seconds, mostSeconds);

/** As a loose contact shows by other signs: as many spikes as are counted already, or so many. */
export function countSpikes(signal: ProbeSignal, at: number, least: number): void {
  signal.spikes = Math.max(spikesAt(signal, at), least);
  signal.spikeAt = at;
}

const countSpike = (signal: ProbeSignal, at: number): void =>
  countSpikes(signal, at, spikesAt(signal, at) + 1);

/** Lone spikes of late, each fading by 1/e within an hour. */
export const spikesAt = (signal: ProbeSignal, at: number): number =>
  signal.spikes === 0 ? 0 : signal.spikes * Math.exp(-(at - signal.spikeAt) / SPIKE_MEMORY_MILLIS);

function believe(signal: ProbeSignal, at: number, celsius: number, isAtWork: boolean): void {
  const { at: lastAt, celsius: lastCelsius, previousAt, previousCelsius } = signal;
  if (!isAtWork) {
    signal.readingsAtRest = (signal.readingsAtRest ?? 0) + 1;
    signal.changesAtRest = (signal.changesAtRest ?? 0) + (celsius === lastCelsius ? 0 : 1);
  }
  if (celsius === lastCelsius) {
    signal.sameReadings += 1;
    // Nobody saw what the value did while nothing was received.
    if (at - lastAt > UNSEEN_MILLIS) signal.sameSince += at - lastAt;
  } else {
    const same = lastAt - signal.sameSince;
    if (isAtWork) {
      if (same > signal.longestSameAtWork) signal.longestSameAtWork = same;
      signal.changesAtWork += 1;
    } else if (same > signal.longestSame) signal.longestSame = same;
    signal.changes += 1;
    const step = Math.abs(celsius - lastCelsius);
    if (signal.smallestStep === 0 || step < signal.smallestStep) signal.smallestStep = step;
    signal.sameSince = at;
    signal.sameReadings = 1;
  }
  if (previousAt > 0 && at - previousAt <= 2 * NEIGHBOURS_MILLIS) {
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
  signal.at = at;
  signal.celsius = celsius;
}

/** The probe's resolution as its readings show it, kelvins; 0 while unknown. */
export const stepOf = ({ changes, smallestStep }: ProbeSignal): number => (changes < 20 ? 0 : smallestStep);

/** Standard deviation of one reading, kelvins; null while it rests on few. */
export const noiseOf = (signal: ProbeSignal): number | null =>
  signal.roughReadings < FEWEST_ROUGH_READINGS ? null : Math.sqrt(Math.max(0, signal.roughness));
