// What is measured of a station at each new value: trend, history, activity, curve, dose, cycles; and all of it together
// as the input of its rules. Costly measures are taken a little less often than readings may come; by sample time, so
// that a replay measures the same.

import { stretchAt, type Stretch } from '../../../lab/calendar.ts';
import type { Lab, Site } from '../../../lab/lab.ts';
import {
  type FirstOrderOptions,
  firstOrderStart,
  firstOrderStep,
  minutesToLimit,
} from '../../../wax/first-order-fit.ts';
import { thermostatStart, thermostatStep } from '../../../wax/thermostat-cycle.ts';
import type { Celsius, EpochMillis, Millimetres } from '../../../wax/units.ts';
import { advanceActivity, coldBelow } from '../measures/activity.ts';
import { chargeDoseStep } from '../measures/charge-dose.ts';
import { loadStep, type SoakPlace } from '../measures/load.ts';
import { advanceOvernight } from '../measures/overnight-extremes.ts';
import { advanceTenMinutes, startTenMinutes, withClosed } from '../measures/ten-minutes.ts';
import { thermostatDriftStep } from '../measures/thermostat-drift.ts';
import { advanceTrend, celsiusPerHour, startTrend } from '../measures/trend.ts';
import { warmUpStep } from '../measures/warm-up.ts';
import type { StationInput } from '../rule/rule-input.ts';
import { countCharges } from './charge-acts.ts';
import { closedHistory, type Draft, putHistory } from './draft.ts';
import { freshProbes } from './freshness.ts';
import type { StationPlan } from './lab-plan.ts';
import type { StationMemory, WatchState } from './memory.ts';
import { outlooksAt } from './patterns.ts';

const FIT_EVERY_MILLIS = 2000;
/** A heater turns within minutes; a room within the hour. */
const TREND_SECONDS = { heater: 120, place: 1200 };

/** Takes the present value of the station into everything that is measured of it. */
export function measureStation(
  draft: Draft,
  plan: StationPlan,
  memory: StationMemory,
  periodSeconds: number,
): void {
  const { at, celsius } = memory;
  const least = plan.isHeater ? TREND_SECONDS.heater : TREND_SECONDS.place;
  if (memory.trend === null) memory.trend = startTrend(at, celsius);
  else advanceTrend(memory.trend, at, celsius, Math.max(least, 3 * periodSeconds));
  measureHistory(draft, plan, memory);
  if (plan.isHeater) measureHeater(plan, memory, periodSeconds);
  else memory.overnight = advanceOvernight(memory.overnight, hoursAt(draft.lab.site, at), at, celsius);
  countCharges(draft.lab, plan, memory, (charge, wax) => chargeDoseStep(charge, at, celsius, wax));
}

export const hoursAt = (site: Site, at: number): Stretch => stretchAt(site, at as EpochMillis);

function measureHistory(draft: Draft, plan: StationPlan, memory: StationMemory): void {
  const { at, celsius, tenMinutes } = memory;
  if (tenMinutes === null) memory.tenMinutes = startTenMinutes(at, celsius);
  else if (!advanceTenMinutes(tenMinutes, at, celsius)) {
    putHistory(
      draft,
      plan.historyKey,
      withClosed(closedHistory(draft.parts, plan.historyKey), tenMinutes, at),
    );
    memory.tenMinutes = startTenMinutes(at, celsius);
  }
}

function measureHeater(plan: StationPlan, memory: StationMemory, periodSeconds: number): void {
  const { at, celsius } = memory;
  const before = memory.activity;
  memory.activity = advanceActivity(before, at, celsius, plan.limits);
  memory.warmUp = warmUpStep(memory.warmUp, before, memory.activity, at);
  if (memory.load !== null) memory.load = loadStep(memory.load, at, celsius, soakPlace(plan, celsius));
  if (celsius < coldBelow(plan.limits)) {
    memory.fit = null;
    memory.minutesToCeiling = null;
    return;
  }
  if (memory.fit?.at != null && at - memory.fit.at < FIT_EVERY_MILLIS) return;
  measureCurve(plan, memory, periodSeconds);
  measureThermostat(memory);
}

/** The piece is set at the rule for a load that is ready; with that one off, a thin stick is taken. */
function soakPlace({ kindFacts, limits, wax, byKind }: StationPlan, celsius: number): SoakPlace {
  const { stick_millimetres: stick = 6, sheet_millimetres: sheet = 0 } =
    byKind.get('soak-ready')?.values ?? {};
  return {
    warmFrom: limits.windowLow?.value ?? celsius,
    wax,
    shape:
      sheet > 0
        ? { kind: 'sheet', thickness: sheet as Millimetres }
        : { kind: 'stick', diameter: stick as Millimetres },
    surroundings: kindFacts.surroundings ?? 'still-air',
  };
}

function measureCurve(plan: StationPlan, memory: StationMemory, periodSeconds: number): void {
  const { windowHigh, ceiling } = plan.limits;
  const at = memory.at as EpochMillis;
  memory.fit = firstOrderStep(memory.fit ?? firstOrderStart(), at, memory.celsius as Celsius, {
    longestGap: Math.max(300, 4 * periodSeconds) as NonNullable<FirstOrderOptions['longestGap']>,
    ...(plan.wax && {
      melting: { low: plan.wax.melting.low.value as Celsius, high: plan.wax.melting.high.value as Celsius },
    }),
  });
  const isAbove = ceiling !== null && memory.celsius > (windowHigh?.value ?? ceiling.value);
  memory.minutesToCeiling = isAbove
    ? (minutesToLimit(memory.fit, ceiling.value as Celsius)?.minutes ?? null)
    : null;
}

function measureThermostat(memory: StationMemory): void {
  const before = memory.thermostat ?? thermostatStart();
  const after = thermostatStep(before, memory.at as EpochMillis, memory.celsius as Celsius);
  memory.thermostat = after;
  if (after.cycles !== before.cycles && after.cycles.length > 0)
    memory.thermostatDrift = thermostatDriftStep(memory.thermostatDrift, after);
}

const ALONE: StationInput['probes'] = [];

/** What the rules of the station are evaluated on, as it is remembered now. */
export function stationInput(
  lab: Lab,
  plan: StationPlan,
  memory: StationMemory,
  state: WatchState,
): StationInput {
  const { at } = memory;
  const hours = hoursAt(lab.site, at);
  return {
    station: plan.station,
    limits: plan.limits,
    wax: plan.wax,
    at,
    celsius: memory.celsius,
    uncertainty: memory.uncertainty,
    celsiusPerHour: celsiusPerHour(memory.trend),
    probes: plan.probes.length > 1 ? freshProbes(plan, state, at) : ALONE,
    hours,
    nextClosure: plan.patterns.length > 0 && hours.open ? closureAfter(lab.site, hours) : null,
    activity: memory.activity,
    history: { closed: closedHistory(state, plan.historyKey), open: memory.tenMinutes },
    minutesToCeiling: memory.minutesToCeiling,
    dose: plan.isPot ? doseOf(plan, memory) : null,
    hotHoursSinceCleaned: memory.hotHoursBefore + memory.charge.dose.hotSeconds / 3600,
    plannedOff: memory.plannedOff,
    plannedOnAt: memory.plannedOnAt,
    load: memory.load,
    warmUp: memory.warmUp,
    thermostat: memory.thermostatDrift,
    overnight: memory.overnight,
    patterns: outlooksAt(state, plan),
  };
}

export function doseOf(plan: StationPlan, memory: StationMemory): StationInput['dose'] {
  if (plan.wax === null) return null;
  const { hours } = memory.charge.dose;
  const allowance = plan.wax.doseAllowance.value;
  return { hours, allowance, share: hours / allowance };
}

const closures = new WeakMap<Site, { readonly after: number; readonly closure: Stretch }>();

/** Lunch is no closure that a pattern waits over; the caller asks for its length. */
function closureAfter(site: Site, open: Stretch): Stretch | null {
  if (open.to === null) return null;
  const remembered = closures.get(site);
  if (remembered?.after === open.to) return remembered.closure;
  // Asking for another stretch costs the calendar its quick answer, so it is asked once for each closing.
  const closure = hoursAt(site, open.to);
  closures.set(site, { after: open.to, closure });
  return closure;
}
