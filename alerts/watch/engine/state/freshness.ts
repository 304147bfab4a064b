// The probes of a station that have a fresh value, the value they make together, and when it is too old to be live.

import type { FreshProbe } from '../../rule/rule-input.ts';
import type { ProbePlan, StationPlan } from './lab-plan.ts';
import type { ProbeMemory, StationMemory, WatchState } from './memory.ts';

/** Stale after three usual periods, never less than a minute. Common practice. */
const STALE_PERIODS = 3;
const STALE_LEAST_SECONDS = 60;
/**
 * The least share of a period within which all of so many probes are read now and then, wherever in it each is read. What is
 * further apart is not of the same air: it was measured at two ends of a cycle, or one of them missed a reading.
 */
const pairedPeriods = (probes: number): number => 1.1 - 1 / probes;

/** Milliseconds after which the value of the station is stale, by its slowest probe. */
export const staleMillis = (plan: StationPlan, state: WatchState): number =>
  staleAfter(slowestPeriod(plan, state));

function slowestPeriod(plan: StationPlan, state: WatchState): number {
  let slowest = 0;
  for (const { key } of plan.probes) {
    const period = state[key]?.periodSeconds ?? 0;
    if (period > slowest) slowest = period;
  }
  return slowest;
}

/** The same by the period of its slowest probe. */
export const staleAfter = (periodSeconds: number): number =>
  1000 * Math.max(STALE_LEAST_SECONDS, STALE_PERIODS * periodSeconds);

/** Usual seconds from one arrival to the next. After an outage a bunch comes too, hardly twice in a row. */
export const deliversEvery = ({
  deliverySeconds = 0,
  deliverySecondsBefore = 0,
  periodSeconds,
}: ProbeMemory): number => Math.max(periodSeconds, Math.min(deliverySeconds, deliverySecondsBefore));

/** Those that were read within so many milliseconds; by default those that are not stale. */
export function freshProbes(
  plan: StationPlan,
  state: WatchState,
  at: number,
  withinMillis = staleMillis(plan, state),
): readonly FreshProbe[] {
  const oldest = at - withinMillis;
  const fresh: FreshProbe[] = [];
  for (const { probe, key } of plan.probes) {
    const memory = state[key];
    if (memory === undefined || memory.at < oldest) continue;
    const { celsius, moltenAt } = memory;
    const uncertainty = probe.uncertainty_celsius;
    fresh.push({ id: probe.id, celsius, uncertainty, ...(moltenAt !== undefined && { moltenAt }) });
  }
  return fresh;
}

export const pairedProbes = (plan: StationPlan, state: WatchState, at: number): readonly FreshProbe[] =>
  freshProbes(plan, state, at, 1000 * pairedPeriods(plan.probes.length) * slowestPeriod(plan, state));

/** Sets the value of a station with one probe. */
export function takeLoneProbe(
  { probe }: ProbePlan,
  { celsius }: ProbeMemory,
  memory: StationMemory,
  at: number,
): void {
  memory.at = at;
  memory.celsius = celsius;
  memory.uncertainty = probe.uncertainty_celsius;
}

/** Sets the value of a station with several: the hottest fresh probe or the mean of the fresh ones, by its kind. */
export function combineProbes(plan: StationPlan, memory: StationMemory, state: WatchState, at: number): void {
  const oldest = at - staleMillis(plan, state);
  let [fresh, sum, widest] = [0, 0, 0];
  let hottest = Number.NEGATIVE_INFINITY;
  let uncertaintyOfHottest = 0;
  for (const { probe, key } of plan.probes) {
    const own = state[key];
    if (own === undefined || own.at < oldest) continue;
    fresh += 1;
    sum += own.celsius;
    widest = Math.max(widest, probe.uncertainty_celsius);
    if (own.celsius <= hottest) continue;
    hottest = own.celsius;
    uncertaintyOfHottest = probe.uncertainty_celsius;
  }
  if (fresh === 0) return;
  memory.at = at;
  const takesHottest = plan.kindFacts.combinesProbes === 'hottest';
  memory.celsius = takesHottest ? hottest : sum / fresh;
  memory.uncertainty = takesHottest ? uncertaintyOfHottest : widest;
}
