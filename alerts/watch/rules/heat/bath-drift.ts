// A bath at work that leaves its window, or creeps towards its edge. While its thermostat goes on turning it is heated,
// and where it turns says where it creeps to; a bath that only falls was switched off.

import { STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import type { HeatCycle } from '../../measures/heater-band.ts';
import { extremesBetween } from '../../measures/ten-minutes.ts';
import type { Evaluation } from '../../rule/condition-timer.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { stationRule } from '../../rule/rule.ts';
import { SOFTENERS_CLOSING } from './no-heat.ts';

/** Faster than this it is switched off, or warming up, °C an hour. */
const MOVING_RATE = 5;
const COOLING_RATE = 2.5;
const SETTLED_MILLIS = 40 * 60_000;
/** A trend means something only when what it starts from is settled too. */
const TREND_MILLIS = 90 * 60_000;
/** It turns as long as the next cycle is not overdue by this. */
const OVERDUE_PERIODS = 2.5;
const TURNS = 3;
const CREPT_MILLIS = 20 * 60_000;
/** Kelvins that its upper turn must have left the first days' by, and times its own scatter. */
const LEAST_SHIFT = 0.3;
const SHIFT_SPREADS = 3;
const FEWEST_REFERENCE = 6;

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

/** Cycles since it has settled; null when its thermostat does not turn any more, or not often enough. */
function turnsAtWork({ activity, at, band }: StationInput): readonly HeatCycle[] | null {
  const settledAt = activity?.kind === 'hot' ? activity.since + SETTLED_MILLIS : at;
  const cycles = (band?.cycles ?? []).filter((cycle) => cycle.at > settledAt);
  const newest = cycles.at(-1);
  if (newest === undefined || cycles.length < TURNS) return null;
  const period = 1000 * median(cycles.map(({ fallSeconds, riseSeconds }) => riseSeconds + fallSeconds));
  return at - newest.at < OVERDUE_PERIODS * period ? cycles : null;
}

/** Where its turns will be when the horizon has passed; null while they are where they usually are. */
function turnsAhead(
  { band }: StationInput,
  cycles: readonly HeatCycle[],
  horizonMinutes: number,
): { readonly low: number; readonly high: number } | null {
  const [first, last] = [cycles.slice(0, TURNS), cycles.slice(-TURNS)];
  const high = median(last.map((cycle) => cycle.high));
  const low = median(last.map((cycle) => cycle.low));
  const millis = mean(last.map(({ at }) => at)) - mean(first.map(({ at }) => at));
  const crept = millis >= CREPT_MILLIS ? (high - median(first.map((cycle) => cycle.high))) / millis : 0;
  const ahead = crept * horizonMinutes * 60_000;
  const reference = band?.reference ?? null;
  if (reference === null || reference.cycles < FEWEST_REFERENCE) {
    const middle = (high + low) / 2 + ahead;
    return { low: middle, high: middle };
  }
  const shift = high - reference.high;
  const least = Math.max(LEAST_SHIFT, SHIFT_SPREADS * (band?.usual?.spread ?? 0));
  return shift > least
    ? { low: (high + low) / 2, high: high + Math.max(0, ahead) }
    : shift < -least
      ? { low: low + Math.min(0, ahead), high: (high + low) / 2 }
      : null;
}

/** Proportional control, or a slow thermostat. */
function withoutTurns(
  { activity, at, celsius, celsiusPerHour, history, hours, recent }: StationInput,
  low: number,
  high: number,
  p: { readonly closing_minutes: number; readonly horizon_minutes: number },
  evidence: Evaluation,
): Evaluation {
  if (recent === null) return 'unknown';
  if (hours.to !== null && hours.to - at < SOFTENERS_CLOSING * p.closing_minutes * 60_000) return 'gone';
  const rate = celsiusPerHour ?? 0;
  const isMoving = rate > MOVING_RATE || rate < -COOLING_RATE;
  if (celsius < low || celsius > high) return isMoving ? 'between' : evidence;
  const earlier = extremesBetween(history, 0.67, 0.33);
  const since = activity?.kind === 'hot' ? activity.since : at;
  if (earlier === null || at - since < TREND_MILLIS) return 'gone';
  const perMinute = (recent.mean - (earlier.high + earlier.low) / 2) / 30;
  // What falls faster than a setting creeps was switched off.
  if (perMinute < -COOLING_RATE / 60) return 'gone';
  const ahead = recent.mean + p.horizon_minutes * perMinute;
  return Math.abs(perMinute) > 0.01 && (ahead < low || ahead > high) ? evidence : 'gone';
}

export const bathDrift = stationRule({
  kind: 'bath-drift',
  priority: 'medium',
  fewestSamples: 2,
  formula:
    'open, settled for 40 min; under a turning thermostat: the median of 3 upper or lower turns, shifted from the first days’ by > 0.3 K, + horizon · creep beyond the edge; else T outside the window, or mean + horizon · (mean − mean 30 min ago) / 30 min beyond its edge',
  parameters: {
    horizon_minutes: parameter('announced when the edge is nearer than this', 'minutes', 12, [0, 60]),
    closing_minutes: parameter(
      'so shortly before closing it is taken for switched off',
      'minutes',
      45,
      [0, 240],
    ),
    on_delay_seconds: onDelay(60),
    off_delay_seconds: offDelay(300),
  },
  hiddenBehind: ['fire-risk', 'over-ceiling', 'heading-over', 'no-heat', 'probe-out'],
  appliesTo: (station, limits) =>
    STATION_KIND_FACTS[station.kind].window === 'bath' && limits.windowLow !== null,
  evaluate: (input, p) => {
    const { activity, at, celsius, disturbedAt, hours, limits, plannedOff } = input;
    const { windowLow, windowHigh } = limits;
    if (windowLow === null || windowHigh === null) return 'unknown';
    if (!hours.open || plannedOff || activity?.kind !== 'hot' || at - activity.since < SETTLED_MILLIS)
      return 'gone';
    // After a pause it is warmed up again.
    if (hours.from !== null && at - hours.from < SETTLED_MILLIS) return 'gone';
    if (at - disturbedAt < 5 * 60_000) return 'between';
    const [low, high] = [windowLow.value, windowHigh.value];
    const evidence = { evidence: { value_celsius: celsius, low_celsius: low, high_celsius: high } };
    const cycles = turnsAtWork(input);
    if (cycles === null) return withoutTurns(input, low, high, p, evidence);
    const ahead = turnsAhead(input, cycles, p.horizon_minutes);
    return ahead !== null && (ahead.high > high || ahead.low < low) ? evidence : 'gone';
  },
});
