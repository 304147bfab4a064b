// A reading far above the usual band of its heater that the heater's own power cannot have made from the one before: its
// probe was moved, or its contact leapt. Wax under a heater climbs, however long the thermostat sticks.

import type { StationLimits } from '../../../lab/limits.ts';
import { coldBelow } from './activity.ts';
import type { HeaterBand } from './heater-band.ts';
import type { PlausibleChange } from './probe-signal.ts';
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

/** The fastest that the heater can climb, kelvins a second; null while its rhythm and its warm-up are not known. */
function fastestClimb({ band, warmUp }: PacedHeater, limits: StationLimits): number | null {
  const usual = band?.usual ?? null;
  const { windowLow } = limits;
  if (usual === null || usual.learned < FEWEST_LEARNED || windowLow === null) return null;
  if (warmUp === null || warmUp.usualSeconds === 0) return null;
  const warming = (MOLTEN_TIMES * (windowLow.value - coldBelow(limits))) / warmUp.usualSeconds;
  const { fallSeconds, high, low, riseSeconds } = usual;
  const cycling = riseSeconds === 0 ? 0 : (high - low) * (1 / riseSeconds + 1 / fallSeconds);
  return FASTEST_TIMES * Math.max(warming, cycling);
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
 * Where a value that stands above its usual band leapt from within the last minute; null where it climbed.
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
