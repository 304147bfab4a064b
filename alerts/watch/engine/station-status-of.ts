// The status of a station, read from the state of the watch. An old value is never a live one.

import { stores } from '../../../lab/station-kinds.ts';
import type { Celsius, EpochMillis } from '../../../wax/units.ts';
import { loadOutlook } from '../measures/load.ts';
import { extremesOfLast } from '../measures/ten-minutes.ts';
import { celsiusPerHour } from '../measures/trend.ts';
import type { RuleKind } from '../rules/all-rules.ts';
import { closedHistory } from './state/draft.ts';
import { isOn } from './findings/evaluate.ts';
import { staleMillis } from './state/freshness.ts';
import type { StationPlan } from './state/lab-plan.ts';
import { soakPlace } from './measured/measure-heater.ts';
import { doseOf } from './findings/station-input.ts';
import type { StationMemory, WatchState } from './state/memory.ts';
import type { StationCondition, StationStatus } from './station-status.ts';

const SWING_HOURS = 24;

export function statusOf(state: WatchState, plan: StationPlan): StationStatus {
  const memory = state[plan.key];
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
  const meant = intentsOf(memory, state.clock?.now ?? 0);
  if (memory === undefined || memory.at === 0) return { ...nothing, ...meant };
  const stale = staleMillis(plan, state);
  const isStale = (state.clock?.now ?? 0) - memory.at > stale;
  const seen = {
    ...nothing,
    ...meant,
    celsius: memory.celsius as Celsius,
    at: memory.at as EpochMillis,
    staleAfterSeconds: stale / 1000,
  };
  // What the charge went through stays true when nothing is measured.
  const dose = plan.isPot ? doseOf(plan, memory) : null;
  const aged = { ...seen, doseShare: dose?.share ?? null, doseEquivalentHours: dose?.hours ?? null };
  if (isStale) return aged;
  const load = loadOutlook(memory.load, soakPlace(plan, memory.celsius));
  const history = { closed: closedHistory(state, plan.historyKey), open: memory.tenMinutes };
  const rate = celsiusPerHour(memory.trend);
  const swing = stores(plan.station.kind) ? extremesOfLast(history, SWING_HOURS) : null;
  return {
    ...aged,
    ...(load !== null && { load }),
    condition: conditionOf(plan, memory),
    celsiusPerHour: rate,
    // What falls is heading nowhere, whatever curve fits its past.
    minutesToCeiling: rate !== null && rate > 0 ? memory.minutesToCeiling : null,
    swingCelsius: swing === null ? null : swing.high - swing.low,
  };
}

function intentsOf(
  memory: StationMemory | undefined,
  now: number,
): Pick<StationStatus, 'intents' | 'endedIntents'> {
  const remembered = memory?.intents ?? [];
  const intents = remembered.filter(({ until }) => until > now);
  const endedIntents = remembered.filter(({ until }) => until <= now);
  return { ...(intents.length > 0 && { intents }), ...(endedIntents.length > 0 && { endedIntents }) };
}

/** Worst first. */
const BY_RULE: readonly (readonly [RuleKind, StationCondition])[] = [
  ['fire-risk', 'fire-risk'],
  ['over-ceiling', 'over-ceiling'],
  ['heading-over', 'heading-over'],
  ['left-on', 'left-on'],
  ['storage-warm', 'too-warm'],
  ['storage-swing', 'unsteady'],
  ['storage-rate', 'unsteady'],
  ['door-open', 'unsteady'],
];

function conditionOf(plan: StationPlan, memory: StationMemory): StationCondition {
  for (const [rule, condition] of BY_RULE) if (isOn(memory.conditions, rule)) return condition;
  if (stores(plan.station.kind)) return 'steady';
  if (!plan.isHeater) return 'measured';
  const { windowLow, windowHigh } = plan.limits;
  const { activity, celsius } = memory;
  if (activity === null || activity.kind === 'cold') return 'cold';
  if (windowHigh !== null && celsius > windowHigh.value) return 'above-window';
  if (windowLow === null || celsius >= windowLow.value) return 'in-window';
  return activity.kind === 'warming' ? 'warming' : 'below-window';
}
