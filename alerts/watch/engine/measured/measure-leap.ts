// How far a heater is above its usual band because its probe leapt there.

import { isPutBack, leaptFrom } from '../../measures/leap.ts';
import { type ProbeSignal, stepOf } from '../../measures/probe-signal.ts';
import type { StationPlan } from '../state/lab-plan.ts';
import type { StationMemory } from '../state/memory.ts';

/** So near its usual top nothing of a leap is left, kelvins. */
const LIFT_OVER = 0.5;
/** A slow probe goes on for so long to where it leaps. */
const LEAPING_MILLIS = 90_000;

/**
 * A leap that several readings share, as those of a slow probe do, is one of the probe too. It is measured from the low
 * end of the band: where the probe is now, that may be one as well.
 */
export function measureLeap(
  { limits, probes }: StationPlan,
  memory: StationMemory,
  signal: ProbeSignal,
): void {
  const { at, celsius, lift, recent } = memory;
  const usual = memory.band?.usual ?? null;
  if (usual === null || probes.length > 1) return;
  if (celsius <= usual.high + LIFT_OVER) {
    if (lift !== undefined) delete memory.lift;
    return;
  }
  const { step } = signal;
  const isStep = step !== null && step.to > step.from && at - step.at <= LEAPING_MILLIS;
  if (isStep) memory.lift = Math.max(lift ?? 0, celsius - usual.low);
  if (isStep || lift !== undefined || recent === null) return;
  const from = leaptFrom(memory, recent, limits, stepOf(signal));
  if (from === null) return;
  const leap = { at, from, to: celsius };
  if (isPutBack(leap, step, recent)) return;
  signal.step = leap;
  memory.lift = celsius - usual.low;
}
