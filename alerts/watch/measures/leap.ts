// A reading far above the usual band of its heater that the heater's own power cannot have made from the one before: its
// probe was moved, or its contact leapt. Wax under a heater climbs, however long the thermostat sticks.

import type { StationLimits } from '../../../lab/limits.ts';
import { coldLimit } from './activity.ts';
import type { HeaterBand, UsualBand } from './heater-band.ts';
import type { PlausibleChange, ProbeSignal } from './probe-signal.ts';
import type { Recent } from './recent.ts';
import type { WarmUp } from './warm-up.ts';

/** Cycles before its pace means anything. */
const FEWEST_LEARNED = 6;
/** Kelvins above the usual top from which on a reading may be doubted for its pace. */
const ABOVE_USUAL = 1;
/** Wax without its heat of fusion warms up faster than the whole warm-up is on average. Engineering estimate. */
const MOLTEN_TIMES = 2;
/** Little wax is left: it climbs so many times as fast as usual at most. Engineering estimate. */
const FASTEST_TIMES = 2.5;
/** Kelvins between places of one pot; steps of a coarse probe. */
const LEAST_LEAP = 3;
const LEAST_STEPS = 4;

/** What is measured of a heater that its pace is read from. */
interface PacedHeater {
  readonly band: HeaterBand | null;
  readonly warmUp: WarmUp | null;
}

/** Its pace in molten wax as its warm-ups show it, kelvins a second; null while none is known. */
function warmUpPace({ warmUp }: PacedHeater, limits: StationLimits): number | null {
  const { windowLow } = limits;
  if (warmUp === null || warmUp.usualSeconds === 0 || windowLow === null) return null;
  return (MOLTEN_TIMES * (windowLow.value - coldLimit(limits))) / warmUp.usualSeconds;
}

/** Rise and fall of its cycles together are its power over its heat capacity, kelvins a second; 0 where it does not cycle. */
const cyclePace = ({ fallSeconds, high, low, riseSeconds }: UsualBand): number =>
  riseSeconds === 0 ? 0 : (high - low) * (1 / riseSeconds + 1 / fallSeconds);

/** The fastest that the heater can climb, kelvins a second; null while its rhythm and its warm-up are not known. */
function fastestClimb(heater: PacedHeater, limits: StationLimits): number | null {
  const usual = heater.band?.usual ?? null;
  const warming = warmUpPace(heater, limits);
  if (usual === null || usual.learned < FEWEST_LEARNED || warming === null) return null;
  return FASTEST_TIMES * Math.max(warming, cyclePace(usual));
}

/** Hot wax poured in reaches the probe within this, and it warms the pot no further. */
const POUR_MILLIS = { least: 25_000, most: 75_000 };
/** So long after it left its usual band it eases off at least; a pot that still rises then is heated. */
const COOLS_AFTER_MILLIS = 70_000;
const RISES_WITHIN_MILLIS = 45_000;
/** Of the power that its cycles show, on average over their turns; and kelvins that noise and few readings make in a minute. */
const POUR_TIMES = 1.3;
const LEAST_POUR = 0.6;

/**
 * Whether hotter wax may have been poured in when the value left the usual band, minutes ago: it rose faster than the
 * heater's own power makes it. False while neither its cycles nor its warm-ups are known.
 * It ends by itself when the band was left longer ago than the list reaches.
 * @param recent the last ten minutes up to the value
 */
export function mayBePouredInto(
  heater: PacedHeater & { readonly at: number; readonly celsius: number },
  recent: Recent,
  limits: StationLimits,
): boolean {
  const usual = heater.band?.usual ?? null;
  if (usual === null) return false;
  const pace = cyclePace(usual) || (warmUpPace(heater, limits) ?? 0);
  if (pace === 0) return false;
  const { at, celsius } = recent;
  const within = celsius.findLastIndex((value) => value <= usual.high);
  if (within === -1) return false;
  const before = at.findLastIndex((instant) => heater.at - instant >= RISES_WITHIN_MILLIS);
  const isRising = heater.celsius > (celsius[before] ?? Number.NEGATIVE_INFINITY);
  if (isRising && heater.at - (at[within] ?? 0) > COOLS_AFTER_MILLIS) return false;
  const isSteep = (start: number, end: number): boolean => {
    const millis = (at[end] ?? 0) - (at[start] ?? 0);
    const rise = (celsius[end] ?? 0) - (celsius[start] ?? 0);
    const isPour = millis >= POUR_MILLIS.least && millis <= POUR_MILLIS.most;
    return isPour && rise > Math.max(LEAST_POUR, (POUR_TIMES * pace * millis) / 1000);
  };
  return at.some((_, end) => end > within && at.some((_at, start) => start < end && isSteep(start, end)));
}

/** How far a reading above the usual band may stand from the one before it; null where it is as for any heater. */
export function plausibleClimb(
  heater: PacedHeater,
  limits: StationLimits,
  before: number,
  celsius: number,
  resolutionKelvin: number,
): PlausibleChange | null {
  const usual = heater.band?.usual ?? null;
  if (usual === null || celsius <= before || celsius <= usual.high + ABOVE_USUAL) return null;
  const fastest = fastestClimb(heater, limits);
  if (fastest === null) return null;
  return { celsiusPerSecond: fastest, celsius: leastLeap(resolutionKelvin), alikePerSecond: fastest };
}

const leastLeap = (resolutionKelvin: number): number => Math.max(LEAST_LEAP, LEAST_STEPS * resolutionKelvin);

/** Of the fastest climb; a heater that rises unevenly comes near half of it. Engineering estimate. */
const BEYOND_ITS_POWER = 0.75;

/**
 * Whether a rise to the present value within `millis` was faster than the heater's own power makes it; of hot wax
 * poured in that holds too, so it takes more to blame the probe. False while its rhythm and its warm-up are not known.
 */
export function roseBeyondItsPower(
  heater: PacedHeater,
  limits: StationLimits,
  riseKelvin: number,
  millis: number,
): boolean {
  const fastest = fastestClimb(heater, limits);
  return fastest !== null && riseKelvin > (BEYOND_ITS_POWER * fastest * millis) / 1000;
}

/** A slow probe shares a leap among the readings of so long. */
const LEAP_MILLIS = 60_000;

/**
 * Where a value that is above its usual band leapt from within the last minute; null where it climbed.
 * @param recent the last minutes up to the value
 */
export function leaptFrom(
  heater: PacedHeater & { readonly at: number; readonly celsius: number },
  recent: Recent,
  limits: StationLimits,
  resolutionKelvin: number,
): number | null {
  const { at, celsius } = heater;
  const fastest =
    celsius <= (heater.band?.usual?.high ?? celsius) + ABOVE_USUAL ? null : fastestClimb(heater, limits);
  if (fastest === null) return null;
  const least = leastLeap(resolutionKelvin);
  for (let index = recent.at.length - 1; index >= 0; index -= 1) {
    const [earlier = at, from = celsius] = [recent.at[index], recent.celsius[index]];
    if (at - earlier > LEAP_MILLIS) return null;
    if (celsius - from > least + (fastest * (at - earlier)) / 1000) return from;
  }
  return null;
}

/** A probe that was moved, or changed places with another, is put back within so long. */
const MISPLACED_MILLIS = 36 * 3_600_000;
/** Cycles before what is usual is held to, and kelvins and share of its band from it that are elsewhere. */
const FEWEST_HABITS = 12;
const ELSEWHERE = { kelvins: 1, share: 0.25 };

/**
 * Whether a heater turns elsewhere than usual since its probe leapt: it shows another place, and none of that is a habit.
 * @param top of its newest turn, °C
 */
export function isElsewhere(
  usual: UsualBand | null,
  { step }: Pick<ProbeSignal, 'step'>,
  at: number,
  top: number,
): boolean {
  if (step === null || at - step.at > MISPLACED_MILLIS) return false;
  if (usual === null || usual.learned < FEWEST_HABITS) return false;
  const { kelvins, share } = ELSEWHERE;
  return Math.abs(top - usual.high) > Math.max(kelvins, share * (usual.high - usual.low));
}

/**
 * Kelvins that it fell at least, and above where it was; and the share of the way back that it has at least: a slow probe is
 * still on it when its leap is borne out.
 */
const PUT_BACK = { fell: 5, above: 1, share: 0.5 };

/**
 * Whether a probe that fell as it does in air, with no leap, leapt back minutes later to where it was: it was wiped, or lifted
 * out of the way, and put back.
 * @param step its newest leap
 * @param before the one before it
 * @param recent the last minutes up to the leap
 */
export function isPutBack(
  step: ProbeSignal['step'],
  before: ProbeSignal['step'],
  recent: Recent | null,
): boolean {
  const firstAt = recent?.at[0];
  if (step === null || step.to < step.from || recent === null || firstAt === undefined) return false;
  if (before !== null && before.at >= firstAt) return false;
  const lowest = Math.min(...recent.celsius);
  const highest = Math.max(...recent.celsius.slice(0, recent.celsius.indexOf(lowest)));
  const fell = highest - lowest;
  const isBack = step.to >= lowest + PUT_BACK.share * fell && step.to <= highest + PUT_BACK.above;
  return isBack && fell >= PUT_BACK.fell;
}
