// What is measured of the doors of a softening cabinet at each new value.

import { advanceDoorSigns, startDoorSigns } from '../../measures/door-signs.ts';
import type { UsualBand } from '../../measures/heater-band.ts';
import { noiseOf, type ProbeSignal, stepOf } from '../../measures/probe-signal.ts';
import type { FreshProbe } from '../../rule/rule-input.ts';
import type { StationPlan } from '../state/lab-plan.ts';
import type { StationMemory } from '../state/memory.ts';

/** A cabinet that has just become warm still settles, and its air rises for a while. */
const DOOR_SETTLING_MILLIS = 20 * 60_000;
/** Where its thermostat lets the hottest probe fall to, °C; infinite while that is not known. */
const fallsTo = (usual: UsualBand | null): number =>
  usual === null ? Number.POSITIVE_INFINITY : usual.low - CYCLE_SHARE * (usual.high - usual.low);
const CYCLE_SHARE = 0.1;
const cycleSeconds = (usual: UsualBand | null): number =>
  usual === null ? 0 : usual.riseSeconds + usual.fallSeconds;
const usualFall = (usual: UsualBand | null): number =>
  usual === null || usual.fallSeconds === 0
    ? Number.POSITIVE_INFINITY
    : (usual.high - usual.low) / usual.fallSeconds;
/** Read less often, the turns of a cabinet's air look like noise. */
const NOISE_SECONDS = 15;
const doorNoise = (signal: ProbeSignal, periodSeconds: number): number =>
  periodSeconds > NOISE_SECONDS ? 0 : (noiseOf(signal) ?? 0);
const FEWEST_READINGS_A_CYCLE = 4.5;
const SELDOM_SECONDS = 30;

/**
 * With few readings a cycle, the low end of the thermostat's own cycle looks like a door when one falls on it. While the
 * cycle is not known, few are few a minute.
 */
export const isReadTooSeldom = (
  usual: UsualBand | null,
  periodSeconds: number,
  readingsACycle: number,
): boolean => {
  if (usual === null) return periodSeconds > SELDOM_SECONDS;
  const seconds = cycleSeconds(usual);
  return seconds > 0 && seconds < readingsACycle * periodSeconds;
};

/**
 * Kelvins. Of two probes with its sign: a thermostat moves them apart both ways in turn, and so do readings that are not of
 * the same instant.
 */
const spreadOf = (values: readonly number[]): number =>
  values.length === 2 ? (values[0] ?? 0) - (values[1] ?? 0) : Math.max(...values) - Math.min(...values);

export function measureDoors(
  plan: StationPlan,
  memory: StationMemory,
  probes: readonly FreshProbe[],
  periodSeconds: number,
  signal: ProbeSignal,
): void {
  const { activity, at } = memory;
  if (activity?.kind !== 'hot' || at - activity.since < DOOR_SETTLING_MILLIS) return;
  // With one of them missing, the others would look like another temperature.
  if (probes.length < plan.probes.length) return;
  const values = probes.map(({ celsius }) => celsius);
  const hottest = Math.max(...values);
  const inside = {
    celsius: values.reduce((sum, celsius) => sum + celsius, 0) / values.length,
    spread: spreadOf(values),
    hottest,
    fallsTo: fallsTo(memory.band?.usual ?? null),
    usualFall: usualFall(memory.band?.usual ?? null),
    step: stepOf(signal) / values.length,
    noise: doorNoise(signal, periodSeconds),
  };
  memory.doors ??= startDoorSigns(at, inside);
  const isTooSeldom = isReadTooSeldom(memory.band?.usual ?? null, periodSeconds, FEWEST_READINGS_A_CYCLE);
  advanceDoorSigns(memory.doors, at, inside, plan.limits.windowLow?.value ?? inside.celsius, {
    cycleSeconds: cycleSeconds(memory.band?.usual ?? null),
    isTooSeldom,
    periodSeconds,
  });
}
