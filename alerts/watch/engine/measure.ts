// What is measured of a station at each new value: trend, past, activity, curve, dose, cycles. Costly measures are
// taken a little less often than readings may come; by sample time, so that a replay measures the same.

import { stretchAt } from '../../../lab/calendar.ts';
import type { Site } from '../../../lab/lab.ts';
import {
  type FirstOrderOptions,
  firstOrderStart,
  firstOrderStep,
  minutesToLimit,
} from '../../../wax/first-order-fit.ts';
import { thermostatStart, thermostatStep } from '../../../wax/thermostat-cycle.ts';
import type { Celsius, EpochMillis, Millimetres } from '../../../wax/units.ts';
import { activityStep, coldBelow } from '../measures/activity.ts';
import { chargeDoseStep } from '../measures/charge-dose.ts';
import { loadStep, type SoakPlace } from '../measures/load.ts';
import { nightStep } from '../measures/night.ts';
import { pastStep } from '../measures/past.ts';
import { thermostatDriftStep } from '../measures/thermostat-drift.ts';
import { trendStep } from '../measures/trend.ts';
import { warmUpStep } from '../measures/warm-up.ts';
import { countCharges } from './charge-acts.ts';
import type { StationPlan } from './lab-plan.ts';
import type { StationMemory } from './memory.ts';
import { closedBuckets, putPart, type Work } from './work.ts';

const FIT_EVERY_MILLIS = 2000;
/** A heater turns within minutes; a room within the hour. */
const TREND_SECONDS = { heater: 120, place: 1200 };

export function measure(work: Work, plan: StationPlan, memory: StationMemory, periodSeconds: number): void {
  const { at, celsius } = memory;
  const least = plan.isHeater ? TREND_SECONDS.heater : TREND_SECONDS.place;
  memory.trend = trendStep(memory.trend, at, celsius, Math.max(least, 3 * periodSeconds));
  keepPast(work, plan, memory);
  if (plan.isHeater) measureHeater(plan, memory, periodSeconds);
  else memory.night = nightStep(memory.night, hoursAt(work.lab.site, at), at, celsius);
  countCharges(work.lab, plan, memory, (charge, wax) => chargeDoseStep(charge, at, celsius, wax));
}

export const hoursAt = (site: Site, at: number) => stretchAt(site, at as EpochMillis);

function keepPast(work: Work, plan: StationPlan, memory: StationMemory): void {
  const closed = closedBuckets(work.parts, plan.pastName);
  const past = pastStep({ closed, open: memory.bucket }, memory.at, memory.celsius);
  memory.bucket = past.open;
  if (past.closed !== closed) putPart(work, plan.pastName, past.closed);
}

function measureHeater(plan: StationPlan, memory: StationMemory, periodSeconds: number): void {
  const { at, celsius } = memory;
  const before = memory.activity;
  memory.activity = activityStep(before, at, celsius, plan.limits);
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
  // Below the window every warm-up heads for the sky; the thermostat has yet to speak.
  const isWorthIt = ceiling !== null && windowHigh !== null && memory.celsius > windowHigh.value;
  memory.minutesToCeiling = isWorthIt
    ? (minutesToLimit(memory.fit, ceiling.value as Celsius)?.minutes ?? null)
    : null;
}

function measureThermostat(memory: StationMemory): void {
  if (memory.activity?.kind !== 'hot') {
    memory.thermostat = null;
    return;
  }
  const before = memory.thermostat ?? thermostatStart();
  memory.thermostat = thermostatStep(before, memory.at as EpochMillis, memory.celsius as Celsius);
  if (memory.thermostat.cycles !== before.cycles)
    memory.thermostatDrift = thermostatDriftStep(memory.thermostatDrift, memory.thermostat);
}
