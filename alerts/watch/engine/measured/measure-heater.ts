// What is measured of a heater at each new value: whether it is on, its warm-ups, its usual band, its load, and where it
// is going when it climbs.

import { minuteOfDay } from '../../../../lab/calendar.ts';
import type { StationLimits } from '../../../../lab/limits.ts';
import {
  type FirstOrderOptions,
  firstOrderStart,
  firstOrderStep,
} from '../../../../wax/heat/first-order-fit.ts';
import { minutesToLimit } from '../../../../wax/heat/minutes-to-limit.ts';
import type { Celsius, EpochMillis, Millimetres } from '../../../../wax/units.ts';
import { advanceActivity, coldLimit } from '../../measures/activity.ts';
import { advanceBand, learnCycle, startBand } from '../../measures/heater-band.ts';
import { isElsewhere } from '../../measures/leap.ts';
import { levelSignsStep } from '../../measures/level-signs.ts';
import { loadStep, type SoakPlace } from '../../measures/load.ts';
import { learnTurn } from '../../measures/own-turns.ts';
import { noiseOf, type ProbeSignal, stepOf } from '../../measures/probe-signal.ts';
import { advanceRecent, highestWithin, startRecent } from '../../measures/recent.ts';
import { rhythmStep } from '../../measures/rhythm.ts';
import { followSetPoint } from '../../measures/set-point.ts';
import { celsiusPerHour } from '../../measures/trend.ts';
import { halfWayStep, warmUpStep } from '../../measures/warm-up.ts';
import type { Condition } from '../../rule/condition-timer.ts';
import type { RuleKind } from '../../rules/all-rules.ts';
import { closedHistory, type Draft } from '../state/draft.ts';
import { pairedProbes } from '../state/freshness.ts';
import type { StationPlan } from '../state/lab-plan.ts';
import { keepAnnounced, keepDay } from './keep-day.ts';
import { isReadTooSeldom, measureDoors } from './measure-doors.ts';
import { measureLeap } from './measure-leap.ts';
import type { Conditions, ProbeMemory, StationMemory } from '../state/memory.ts';

const FIT_EVERY_MILLIS = 2000;
/** After a warm-up the thermostat needs so long to settle. */
export const SETTLING_MILLIS = 30 * 60_000;
const LEAST_HYSTERESIS = 0.3;
/** A heater that turns further below its window than this cools; it keeps no band there. */
export const LEARN_BELOW_WINDOW = 3;
/** A fall this much faster than the usual one is somebody at work: cold wax, a cold piece, an open lid. */
const DISTURBED_CELSIUS = 1.2;
const DISTURBED_MILLIS = 60_000;
/** A cycle shorter than this, or than some readings, is noise. */
const SHORTEST_SECONDS = 40;
const SHORTEST_READINGS = 4;

/** While one of these is pending or on, nothing about the heater is usual. */
const SUSPICIOUS: readonly RuleKind[] = [
  'fire-risk',
  'over-ceiling',
  'no-heat',
  'heater-weak',
  'low-pot',
  'thermostat-drift',
  'probe-out',
  'bath-drift',
  'probe-drift',
];

export const isCalm = (conditions: Conditions): boolean => {
  for (const kind of SUSPICIOUS)
    if (conditions[kind] !== undefined && !(kind === 'probe-drift' && isAtRest(conditions[kind])))
      return false;
  return true;
};

/** A probe that is off by some kelvins at rest still shows the habits of its thermostat at work. */
const isAtRest = (drift: Condition): boolean => drift.phase === 'on' && drift.evidence.how === 'resting';

const isWithoutHeat = ({ activity, conditions }: StationMemory): boolean =>
  activity?.kind === 'hot' && conditions['no-heat']?.phase === 'on';

/** Between cold and its window, °C. */
const halfWay = (limits: StationLimits): number =>
  (coldLimit(limits) + (limits.windowLow?.value ?? Number.POSITIVE_INFINITY)) / 2;

/** Standard deviations that noise alone spans within minutes: the more readings, the further its extremes lie apart. */
const noiseRange = (periodSeconds: number): number => 4 + 2 * Math.min(1, 5 / periodSeconds);

/** `lastAt`: instant of the value before this one; `probe`: the one that sent it. */
export function measureHeater(
  draft: Draft,
  plan: StationPlan,
  memory: StationMemory,
  lastAt: number,
  { periodSeconds, signal }: ProbeMemory,
): void {
  const { at, celsius } = memory;
  if (memory.recent === null) memory.recent = startRecent(at, celsius);
  else advanceRecent(memory.recent, at, celsius);
  const before = memory.activity;
  memory.activity = advanceActivity(before, at, celsius, plan.limits);
  // A warm-up begins and ends where the activity changes.
  if (memory.activity !== before)
    memory.warmUp = warmUpStep(memory.warmUp, before, memory.activity, at, (instant) =>
      minuteOfDay(draft.lab.site, instant),
    );
  if (before?.kind === 'hot' && memory.activity.kind === 'cold') {
    keepAnnounced(memory);
    if (plan.isPot) keepDay(memory, closedHistory(draft.parts, plan.historyKey), before.since);
  }
  if (memory.activity.kind === 'warming')
    memory.warmUp = halfWayStep(memory.warmUp, memory.activity, at, celsius, halfWay(plan.limits));
  if (memory.load !== null) memory.load = loadStep(memory.load, at, celsius, soakPlace(plan, celsius));
  if (plan.wax !== null && celsius > plan.wax.melting.high.value) memory.moltenAt = at;
  if (celsius < coldLimit(plan.limits)) {
    forgetClimb(memory);
    memory.overshootTop = 0;
    return;
  }
  if (memory.activity.kind === 'hot') measureLeap(plan, memory, signal);
  if (!plan.isPot && isWithoutHeat(memory)) memory.fellEarlyAt = at;
  const learnFrom = (plan.limits.windowLow?.value ?? 0) - LEARN_BELOW_WINDOW;
  measureBand(
    plan,
    memory,
    signal,
    lastAt,
    Math.max(LEAST_HYSTERESIS, noiseRange(periodSeconds) * (noiseOf(signal) ?? 0), 1.7 * stepOf(signal)),
    periodSeconds,
    learnFrom,
  );
  if (plan.kindFacts.hasDoor)
    measureDoors(plan, memory, pairedProbes(plan, draft.parts, at), periodSeconds, signal);
  measureClimb(plan, memory, periodSeconds);
}

function measureBand(
  { isPot, limits: { ceiling } }: StationPlan,
  memory: StationMemory,
  signal: ProbeSignal,
  lastAt: number,
  hysteresis: number,
  periodSeconds: number,
  learnFrom: number,
): void {
  const within = Math.max(DISTURBED_MILLIS, 2200 * periodSeconds);
  const shortest = 1000 * Math.max(SHORTEST_SECONDS, SHORTEST_READINGS * periodSeconds);
  const { activity, at, celsius, recent } = memory;
  memory.band ??= startBand(at, celsius);
  const { band } = memory;
  const closed = advanceBand(band, lastAt, at, celsius, hysteresis, memory.disturbedAt, shortest);
  if (recent !== null && highestWithin(recent, at, within) - celsius > disturbance(memory, within))
    memory.disturbedAt = at;
  if (activity?.kind !== 'hot') return;
  const sinceHot = at - activity.since;
  if (sinceHot <= SETTLING_MILLIS) {
    if (celsius > memory.overshootTop) memory.overshootTop = celsius;
    return;
  }
  if (memory.overshootTop > 0 && band.usual !== null && isCalm(memory.conditions)) {
    const over = Math.max(0, memory.overshootTop - band.usual.high);
    // The first one is taken as it is.
    memory.overshoot += (memory.overshoot === 0 ? 1 : 0.4) * (over - memory.overshoot);
    memory.overshootTop = 0;
  }
  const top = band.cycles.at(-1)?.high ?? 0;
  if (!closed || top < learnFrom) return;
  const learns = isCalm(memory.conditions) && !isElsewhere(band.usual, signal, at, top);
  if (band.usual !== null && !isReadTooSeldom(band.usual, periodSeconds, READINGS_OF_RHYTHM))
    memory.rhythm = rhythmStep(memory.rhythm ?? null, band.cycles, band.usual, learns);
  if (isPot) band.reference = followSetPoint(band);
  if (isPot) memory.levelSigns = levelSignsStep(memory.levelSigns ?? null, band.cycles, band.usual, learns);
  if (learns) learnCycle(band);
  if (memory.lift === undefined && isBelowCeiling(memory.conditions))
    learnTurn(band, (ceiling?.value ?? top) - TURNED_BELOW_CEILING);
}

/** A turn nearer to the ceiling may be that of a limiter or of somebody who pulled the plug, kelvins. */
const TURNED_BELOW_CEILING = 2;
const isBelowCeiling = (conditions: Conditions): boolean =>
  conditions['heading-over'] === undefined &&
  conditions['over-ceiling'] === undefined &&
  conditions['fire-risk'] === undefined;

/** Falls of the usual rhythm are none. */
const disturbance = ({ band }: StationMemory, within: number): number => {
  const usual = band?.usual ?? null;
  if (usual === null || usual.fallSeconds === 0) return DISTURBED_CELSIUS;
  const usualFall = ((usual.high - usual.low) * within) / 1000 / usual.fallSeconds;
  return Math.max(DISTURBED_CELSIUS, 2 * usualFall);
};

/** With fewer, the tops of an even thermostat look ragged: they fall between readings. */
const READINGS_OF_RHYTHM = 6;
/** Kelvins; a window may reach up to the ceiling. */
const FORECAST_BELOW_CEILING = 3;

/** Where the heater is going; worked out only while it climbs past what is usual, or nears its ceiling unknown. */
function measureClimb(plan: StationPlan, memory: StationMemory, periodSeconds: number): void {
  const { ceiling, windowHigh } = plan.limits;
  const { at, celsius } = memory;
  const usual = memory.band?.usual ?? null;
  const from = usual !== null && usual.learned >= 4 ? usual.high : (windowHigh?.value ?? 0) - 3;
  const rate = celsiusPerHour(memory.trend);
  // The slope of the last minutes goes on rising for a while after the temperature has turned down.
  const hasTurned = memory.band?.going === -1;
  if (ceiling === null || rate === null || rate <= 0 || celsius < from || hasTurned) {
    forgetClimb(memory);
    return;
  }
  if (memory.fit?.at != null && at - memory.fit.at < FIT_EVERY_MILLIS) return;
  memory.fit = firstOrderStep(memory.fit ?? firstOrderStart(), at as EpochMillis, celsius as Celsius, {
    longestGap: Math.max(300, 4 * periodSeconds) as NonNullable<FirstOrderOptions['longestGap']>,
    ...(plan.wax && {
      melting: { low: plan.wax.melting.low.value as Celsius, high: plan.wax.melting.high.value as Celsius },
    }),
  });
  const fitted = minutesToLimit(memory.fit, ceiling.value as Celsius);
  const straight = celsius >= ceiling.value ? 0 : (60 * (ceiling.value - celsius)) / rate;
  const above = Math.min(windowHigh?.value ?? ceiling.value, ceiling.value - FORECAST_BELOW_CEILING);
  const isAbove = celsius > above || (usual !== null && celsius > usual.high);
  memory.minutesToCeiling = isAbove ? (fitted?.minutes ?? straight) : null;
  if (isAbove && fitted !== null) memory.earliestToCeiling = fitted.low;
  else delete memory.earliestToCeiling;
}

/** Nearly always there is nothing to forget, and a deletion costs as much as several rules. */
function forgetClimb(memory: StationMemory): void {
  memory.fit = null;
  memory.minutesToCeiling = null;
  if (memory.earliestToCeiling !== undefined) delete memory.earliestToCeiling;
}

/** The piece is set at the rule for a load that is ready; with that one off, a thin stick is taken. */
/** The piece that the rules of this station are set for, in this place. */
export function soakPlace({ kindFacts, limits, wax, byKind }: StationPlan, celsius: number): SoakPlace {
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
