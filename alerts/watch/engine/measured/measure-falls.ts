// What the falls of a pot at work are measured by, at each new value and when ten minutes are over.

import { highestWithin } from '../../measures/recent.ts';
import type { TenMinutes } from '../../measures/ten-minutes.ts';
import { advanceFall, endFall, endStretch, FALL_MILLIS, startWorkFalls } from '../../measures/work-falls.ts';
import type { StationPlan } from '../state/lab-plan.ts';
import { LEARN_BELOW_WINDOW, SETTLING_MILLIS } from './measure-heater.ts';
import type { StationMemory } from '../state/memory.ts';

/** A probe that is read seldom needs so many readings for a fall. */
const FEWEST_READINGS = 3;

const learnFrom = ({ limits }: StationPlan): number => (limits.windowLow?.value ?? 0) - LEARN_BELOW_WINDOW;

/** Hot, and settled, before the instant. */
const isSettled = ({ activity }: StationMemory, before: number): boolean =>
  activity?.kind === 'hot' && before - activity.since > SETTLING_MILLIS;

/** A pot's newest value; its turns have been followed. */
export function measureFall(plan: StationPlan, memory: StationMemory, periodSeconds: number): void {
  const { at, band, celsius, recent } = memory;
  if (band === null || recent === null) return;
  memory.workFalls ??= startWorkFalls();
  const { workFalls } = memory;
  if (!isSettled(memory, at)) {
    // It was switched off, or warms up: no work.
    workFalls.steepest = 0;
    return;
  }
  const isFalling = band.going === -1;
  if (!isFalling && workFalls.steepest > 0)
    endFall(workFalls, at, band.going === 1 && band.peak >= learnFrom(plan));
  const within = Math.max(FALL_MILLIS, FEWEST_READINGS * 1000 * periodSeconds);
  advanceFall(workFalls, highestWithin(recent, at, within) - celsius, isFalling);
}

/** Ten minutes of a pot are over. `stepKelvin`: of its probe. */
export function measureFallsOf(
  plan: StationPlan,
  memory: StationMemory,
  { at, high }: Readonly<TenMinutes>,
  stepKelvin: number,
): void {
  if (memory.workFalls == null) return;
  endStretch(memory.workFalls, memory.at, isSettled(memory, at) && high >= learnFrom(plan), stepKelvin);
}
