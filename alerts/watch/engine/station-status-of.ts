// How a station stands, read from what the watch remembers. An old value is never a live one.

import { stores } from '../../../lab/station-kinds.ts';
import type { Celsius, EpochMillis } from '../../../wax/units.ts';
import { spanOfLast } from '../measures/past.ts';
import { celsiusPerHour } from '../measures/trend.ts';
import type { RuleKind } from '../rule/rule-kind.ts';
import type { Condition, Standing } from './station-status.ts';
import type { WatchState } from './watch.ts';
import { clockLagMillis, staleMillis } from './freshness.ts';
import type { StationPlan } from './lab-plan.ts';
import type { StationMemory } from './memory.ts';
import { doseOf } from './station-look.ts';
import { closedBuckets, nowOf, part } from './work.ts';

const SWING_HOURS = 24;

export function standingOf(state: WatchState, plan: StationPlan): Standing {
  const memory = part<StationMemory>(state, plan.partName);
  const nothing = {
    station: plan.station.id,
    condition: 'no-data' as const,
    celsius: null,
    at: null,
    celsiusPerHour: null,
    minutesToCeiling: null,
    doseShare: null,
    doseEquivalentHours: null,
    swingCelsius: null,
  };
  if (memory === undefined || memory.at === 0) return nothing;
  // A clock that is known to be slow does not make its readings old.
  const lag = Math.max(0, ...plan.probes.map(({ gateway }) => clockLagMillis(state, gateway)));
  const stale = staleMillis(memory) + lag;
  const isStale = nowOf(state) - memory.at > stale;
  const seen = {
    ...nothing,
    celsius: memory.celsius as Celsius,
    at: memory.at as EpochMillis,
    staleAfterSeconds: stale / 1000,
  };
  // What the charge went through stays true when nothing is measured.
  const dose = plan.isPot ? doseOf(plan, memory) : null;
  const aged = { ...seen, doseShare: dose?.share ?? null, doseEquivalentHours: dose?.hours ?? null };
  if (isStale) return aged;
  const past = { closed: closedBuckets(state, plan.pastName), open: memory.bucket };
  const rate = celsiusPerHour(memory.trend);
  const swing = stores(plan.station.kind) ? spanOfLast(past, SWING_HOURS) : null;
  return {
    ...aged,
    condition: conditionOf(plan, memory),
    celsiusPerHour: rate,
    // What falls is heading nowhere, whatever curve fits its past.
    minutesToCeiling: rate !== null && rate > 0 ? memory.minutesToCeiling : null,
    swingCelsius: swing === null ? null : swing.high - swing.low,
  };
}

/** Worst first. */
const BY_RULE: readonly (readonly [RuleKind, Condition])[] = [
  ['fire-risk', 'fire-risk'],
  ['over-ceiling', 'over-ceiling'],
  ['heading-over', 'heading-over'],
  ['left-on', 'left-on'],
  ['storage-warm', 'too-warm'],
  ['storage-swing', 'unsteady'],
  ['storage-rate', 'unsteady'],
  ['door-open', 'unsteady'],
];

function conditionOf(plan: StationPlan, memory: StationMemory): Condition {
  for (const [rule, condition] of BY_RULE) if (memory.rules[rule]?.phase === 'on') return condition;
  if (stores(plan.station.kind)) return 'steady';
  if (!plan.isHeater) return 'measured';
  const { windowLow, windowHigh } = plan.limits;
  const { activity, celsius } = memory;
  if (activity === null || activity.kind === 'cold') return 'cold';
  if (windowHigh !== null && celsius > windowHigh.value) return 'above-window';
  if (windowLow === null || celsius >= windowLow.value) return 'in-window';
  return activity.kind === 'warming' ? 'warming' : 'below-window';
}
