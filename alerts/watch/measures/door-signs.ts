// Doors of a softening cabinet as they show in its temperature. A door lets the warm air out at once, further and faster
// than the thermostat ever lets it fall. A cold load then takes heat up, so that the air comes back slowly and short of
// its usual top; with the load taken out, the heater that made up for the door carries the air to its top and beyond.

import { MILLIS_PER_MINUTE, MILLIS_PER_SECOND } from '../../../wax/units.ts';
import { advanceRecent, highestWithin, type Recent, startRecent } from './recent.ts';

export interface DoorOpening {
  readonly at: number;
  /** Lowest temperature in the minutes after it, and the highest since that lowest one, °C. */
  readonly lowest: number;
  readonly top: number;
}

/** Plain JSON, replaced as a whole: highest temperatures of stretches as long as a cycle in which no door was opened, °C. */
export interface ShutTops {
  readonly learned: number;
  readonly mean: number;
  /** Mean distance from it, kelvins. */
  readonly scatter: number;
  /** When the present stretch began, epoch milliseconds, and its highest temperature so far. */
  readonly since: number;
  readonly high: number;
}

/** Plain JSON, advanced in place: mean temperature of the cabinet in °C, instants in epoch milliseconds. */
export interface DoorSigns {
  at: number;
  /** What the air seldom falls below and seldom exceeds while the door is shut. */
  low: number;
  high: number;
  /** What the hottest probe seldom falls below. */
  hottestLow: number;
  /** Seconds that both rest on. */
  learnedSeconds: number;
  /** The air has come back since the last opening. */
  isShut: boolean;
  recent: Recent;
  /** How far its probes are apart, kelvins, of two with its sign: a mean of some minutes, in which no door was opened. */
  spread: number;
  /** The same over a longer time: what it was before a door that has just been seen. */
  longSpread: number;
  /** Standard deviation of a reading with the door shut, kelvins; absent in states stored before it was measured. */
  noise?: number;
  /** Smallest step between two values of `celsius`, kelvins; absent in states stored before it was measured. */
  step?: number;
  /** How high its air goes while no door is opened; absent in states stored before it was measured. */
  shut?: ShutTops;
  /** The newest ones, oldest first. Replaced as a whole. */
  openings: readonly DoorOpening[];
  /** Of the newest door, one that is no opening included; absent in states stored before it was measured. */
  doorAt?: number;
}

/** Shares of the time below `low` and above `high`. */
const SELDOM = 0.06;
/** Kelvins a second by which both follow, at first and later. */
const FIRST_STEP = 0.005;
const STEP = 0.0008;
const FIRST_SECONDS = 1800;
const LONGEST_SECONDS = 60;
const LONGEST_GAP_MILLIS = 5 * MILLIS_PER_MINUTE;
/** What a door did is over after so long. */
const TOP_MILLIS = 5 * MILLIS_PER_MINUTE;
const UPSET_MILLIS = 12 * MILLIS_PER_MINUTE;
/** Kelvins and share of the usual band that a door takes the air below it. */
const LEAST_DEPTH = 0.35;
const DEPTH_SHARE = 0.3;
/** Standard deviations of a reading that noise does not take the air below it. */
const DEPTH_NOISES = 3;
/** Kelvins and share of the usual band that it falls by within some minutes. */
const LEAST_FALL = 0.6;
const FALL_SHARE = 0.3;
const FALL_MILLIS = 150_000;
const FALL_PERIODS = 2.2;
const FULL_FALL_MILLIS = 4 * MILLIS_PER_MINUTE;
/** Kelvins that a door takes the hottest probe too below what is usual for it. */
const HOTTEST_DEPTH = 0.1;
/** Kelvins below that, where it is read too seldom to tell a door from the low end of a cycle: only a door takes it so far. */
const FAR_KELVINS = 1;
/** Kelvins beyond its band, and its width again, from which a fall is the end of an overshoot. */
const OVERSHOT_CELSIUS = 1;
/** An overshoot of the last minutes swings back under the band by no more than it went over it, by itself. */
const SWING_BACK_MILLIS = 8 * MILLIS_PER_MINUTE;
const BACK_SHARE = 0.1;
const BACK_CELSIUS = 0.05;
/** A heater below this much under the low end of its window is switched off. */
const WARM_CELSIUS = 1;
/** The weight of a reading in the mean of the spread falls by 1/e within this, or within some readings; more where no door would be seen. */
const SPREAD_MILLIS = 2 * MILLIS_PER_MINUTE;
const SPREAD_PERIODS = { doorsSeen: 3, doorsUnseen: 5 };
const LONG_SPREAD_TIMES = 4;
/** A door, and the cold load behind it, moves the places apart for so long. */
const DOOR_SPREAD_MILLIS = 4 * MILLIS_PER_MINUTE;
/** Those of half a day: what was done at one follows from those before it. */
const KEPT_OPENINGS = 12;
/** Nobody opens a cabinet every ten minutes for an hour: what looks like doors is how its thermostat swings now. */
const RUN_MILLIS = 60 * MILLIS_PER_MINUTE;
const RUN_OPENINGS = 6;

/** What the probes of a cabinet show at one instant. */
export interface Inside {
  /** Mean of its probes, °C. */
  readonly celsius: number;
  /** How far they are apart, kelvins; of two with its sign. */
  readonly spread: number;
  readonly hottest: number;
  /** What its thermostat lets that one fall to, °C; infinite while that is not known. */
  readonly fallsTo: number;
  /** How fast its thermostat lets it fall, kelvins a second; infinite while that is not known. */
  readonly usualFall: number;
  /** Smallest step between two values of `celsius`, kelvins. */
  readonly step: number;
  /** Standard deviation of a reading, kelvins. */
  readonly noise: number;
}

export const startDoorSigns = (at: number, { celsius, hottest, spread }: Inside): DoorSigns => ({
  at,
  low: celsius,
  high: celsius,
  hottestLow: hottest,
  spread,
  longSpread: spread,
  learnedSeconds: 0,
  isShut: false,
  recent: startRecent(at, celsius),
  openings: [],
});

/** Whether what was taken for doors comes too often to be any. */
export const comeTooOften = (openings: readonly DoorOpening[], at: number): boolean =>
  at - (openings.at(-RUN_OPENINGS)?.at ?? 0) < RUN_MILLIS;

/** A door takes no longer to show. */
const doorMillis = (periodSeconds: number): number =>
  Math.max(FALL_MILLIS, FALL_PERIODS * periodSeconds * MILLIS_PER_SECOND);

/** How often a cabinet is read. */
export interface Reads {
  readonly periodSeconds: number;
  /** Of a whole cycle of its thermostat; 0 while that is not known. */
  readonly cycleSeconds: number;
  /** Too seldom to tell a door from the low end of a cycle: only how far its places are apart is followed. */
  readonly isTooSeldom: boolean;
}

/**
 * Takes in one more value of a cabinet that has been warm for a while.
 * @param windowLow low end of its window, °C
 */
export function advanceDoorSigns(
  signs: DoorSigns,
  at: number,
  inside: Inside,
  windowLow: number,
  { cycleSeconds, isTooSeldom, periodSeconds }: Reads,
): void {
  const { celsius } = inside;
  const elapsed = at - signs.at;
  if (elapsed > LONGEST_GAP_MILLIS) {
    signs.isShut = false;
    signs.recent = startRecent(at, celsius);
  } else advanceRecent(signs.recent, at, celsius);
  signs.at = at;
  followOpening(signs, at, celsius);
  noteDoor(signs, at, inside, windowLow, elapsed, { cycleSeconds, isTooSeldom, periodSeconds });
  const isSeen = elapsed <= LONGEST_GAP_MILLIS && celsius > windowLow - WARM_CELSIUS;
  followShut(signs, at, celsius, isSeen, cycleSeconds);
  const periods = isTooSeldom ? SPREAD_PERIODS.doorsUnseen : SPREAD_PERIODS.doorsSeen;
  const forgets = Math.max(SPREAD_MILLIS, periods * periodSeconds * MILLIS_PER_SECOND);
  // After missed readings a pair counts as one: it proves nothing about those between.
  const counted = Math.min(elapsed, periodSeconds * MILLIS_PER_SECOND);
  followSpread(signs, at, inside.spread, elapsed > LONGEST_GAP_MILLIS ? 0 : Math.exp(-counted / forgets));
}

function noteDoor(
  signs: DoorSigns,
  at: number,
  inside: Inside,
  windowLow: number,
  elapsed: number,
  { isTooSeldom, periodSeconds }: Reads,
): void {
  const { celsius, hottest } = inside;
  const seconds = Math.min(LONGEST_SECONDS, elapsed / MILLIS_PER_SECOND);
  const isUpset = at - (signs.openings.at(-1)?.at ?? 0) < UPSET_MILLIS && !comeTooOften(signs.openings, at);
  if (!isUpset && celsius > windowLow - WARM_CELSIUS) learnLevel(signs, inside, seconds);
  if (signs.learnedSeconds < FIRST_SECONDS) return;
  const { low, high, recent } = signs;
  const width = Math.max(0, high - low);
  if (celsius >= low - BACK_SHARE * width - BACK_CELSIUS) signs.isShut = true;
  if (!signs.isShut) return;
  if (isTooSeldom) {
    if (hottest < signs.hottestLow - FAR_KELVINS) startDoor(signs, at);
    return;
  }
  if (fallsFast(recent, at, inside, periodSeconds)) {
    noteOpening(signs, at, celsius);
    return;
  }
  const depth = Math.max(LEAST_DEPTH, DEPTH_SHARE * width, DEPTH_NOISES * inside.noise);
  if (celsius >= low - depth) return;
  const within = doorMillis(periodSeconds);
  const from = highestWithin(recent, at, within);
  const ownFall = FALL_SHARE * width * Math.min(1, within / FULL_FALL_MILLIS);
  // A heater that is switched off falls and falls; a door lets it fall once from where it was.
  if (from < low - BACK_SHARE || from - celsius < LEAST_FALL + ownFall) return;
  // From far above its top it swings back below its band by itself.
  if (from > high + OVERSHOT_CELSIUS + width) return;
  if (low - celsius < highestWithin(recent, at, SWING_BACK_MILLIS) - high) return;
  // Air that only parts into warm and cold, as when a fan stops, is no door.
  if (hottest > Math.min(signs.hottestLow, inside.fallsTo) - HOTTEST_DEPTH) return;
  noteOpening(signs, at, celsius);
}

/** Within its band the air is back at once by its level, and still falls: so soon it is the same door. */
const SAME_DOOR_MILLIS = 75_000;
function noteOpening(signs: DoorSigns, at: number, celsius: number): void {
  startDoor(signs, at);
  const newest = signs.openings.at(-1);
  if (newest !== undefined && at - newest.at < SAME_DOOR_MILLIS) return;
  signs.openings = [...signs.openings.slice(1 - KEPT_OPENINGS), { at, lowest: celsius, top: celsius }];
}

/** Air that is lost falls many times as fast as what a thermostat lets cool, wherever in its band it was. */
const FAST_MILLIS = 45_000;
const FAST_TIMES = 3;
const FAST_LEAST = 0.8;
const FAST_NOISES = 6;
function fallsFast(
  recent: Recent,
  at: number,
  { celsius, noise, usualFall }: Inside,
  periodSeconds: number,
): boolean {
  const within = Math.max(FAST_MILLIS, FALL_PERIODS * periodSeconds * MILLIS_PER_SECOND);
  const usual = (FAST_TIMES * usualFall * within) / MILLIS_PER_SECOND;
  return highestWithin(recent, at, within) - celsius > Math.max(FAST_LEAST, FAST_NOISES * noise) + usual;
}

/** As long as what a door did is looked at, and a whole cycle at least. */
const CYCLES_A_STRETCH = 1.1;
const SHUT_GAIN = 0.1;
/** Before so many it is not known what its thermostat does. */
export const FEWEST_SHUT = 3;

/** @param isSeen whether the cabinet is warm, and was read since the value before */
function followShut(
  signs: DoorSigns,
  at: number,
  celsius: number,
  isSeen: boolean,
  cycleSeconds: number,
): void {
  const { learned = 0, mean = 0, scatter = 0 } = signs.shut ?? {};
  const isUpset = at - (signs.doorAt ?? 0) < UPSET_MILLIS;
  if (signs.shut === undefined || !isSeen || isUpset) {
    signs.shut = { learned, mean, scatter, since: at, high: celsius };
    return;
  }
  const { high, since } = signs.shut;
  if (at - since < Math.max(TOP_MILLIS, CYCLES_A_STRETCH * MILLIS_PER_SECOND * cycleSeconds)) {
    if (celsius > high) signs.shut = { ...signs.shut, high: celsius };
    return;
  }
  const gain = Math.max(1 / (learned + 1), SHUT_GAIN);
  const off = Math.abs(high - mean);
  signs.shut = {
    learned: learned + 1,
    mean: mean + gain * (high - mean),
    scatter: learned === 0 ? 0 : scatter + gain * (off - scatter),
    since: at,
    high: celsius,
  };
}

function startDoor(signs: DoorSigns, at: number): void {
  signs.isShut = false;
  signs.doorAt = at;
  // It stood open for a while before it was seen.
  if (Math.abs(signs.longSpread) < Math.abs(signs.spread)) signs.spread = signs.longSpread;
}

/** A thermostat moves the places of a cabinet apart and together with each of its cycles, and a door for some minutes. */
function followSpread(signs: DoorSigns, at: number, spread: number, keep: number): void {
  if (at - (signs.doorAt ?? 0) < DOOR_SPREAD_MILLIS) return;
  signs.spread = spread + keep * (signs.spread - spread);
  signs.longSpread = spread + keep ** (1 / LONG_SPREAD_TIMES) * (signs.longSpread - spread);
}

function followOpening(signs: DoorSigns, at: number, celsius: number): void {
  const newest = signs.openings.at(-1);
  if (newest === undefined || at - newest.at >= TOP_MILLIS) return;
  if (celsius >= newest.lowest && celsius <= newest.top) return;
  const next =
    celsius < newest.lowest ? { ...newest, lowest: celsius, top: celsius } : { ...newest, top: celsius };
  signs.openings = [...signs.openings.slice(0, -1), next];
}

/** Both ends move until the air is beyond them for the share of the time that is meant. */
function learnLevel(signs: DoorSigns, { celsius, hottest, noise, step }: Inside, seconds: number): void {
  signs.noise = noise;
  signs.step = step;
  if (signs.learnedSeconds === 0) {
    signs.low = celsius;
    signs.high = celsius;
    signs.hottestLow = hottest;
  }
  signs.learnedSeconds += seconds;
  const pace = Math.max(STEP, (FIRST_STEP * FIRST_SECONDS) / Math.max(FIRST_SECONDS, signs.learnedSeconds));
  signs.low += pace * seconds * (SELDOM - (celsius < signs.low ? 1 : 0));
  signs.hottestLow += pace * seconds * (SELDOM - (hottest < signs.hottestLow ? 1 : 0));
  signs.high += pace * seconds * ((celsius > signs.high ? 1 : 0) - SELDOM);
}
