// What is measured of a station at each new value: trend, history, activity, curve, dose, cycles. Costly measures are taken
// a little less often than readings may come, by sample time, so that a replay measures the same.

import { stores } from '../../../../lab/station-kinds.ts';
import type { Lab } from '../../../../lab/lab.ts';
import { advanceCharge, chargeDoseStep } from '../../measures/charge-dose.ts';
import { belowWindowStep } from '../../measures/below-window.ts';
import { addSteady } from '../../measures/heater-band.ts';
import { isElsewhere } from '../../measures/leap.ts';
import { stillStep } from '../../measures/still.ts';
import { advanceOvernight } from '../../measures/overnight-extremes.ts';
import {
  advanceTenMinutes,
  extremesOfLast,
  meanOf,
  startTenMinutes,
  type TenMinutes,
  withClosed,
} from '../../measures/ten-minutes.ts';
import { type ProbeSignal, stepOf } from '../../measures/probe-signal.ts';
import { advanceTrend, startTrend } from '../../measures/trend.ts';
import { type Rest, restStep } from '../../measures/rest.ts';
import { sinkingStep } from '../../measures/sinking.ts';
import { countCharges } from '../acts/charge-acts.ts';
import { closedHistory, type Draft, putHistory } from '../state/draft.ts';
import type { StationPlan } from '../state/lab-plan.ts';
import { measureFall, measureFallsOf } from './measure-falls.ts';
import { followOvernight } from '../../measures/set-point.ts';
import { isCalm, LEARN_BELOW_WINDOW, measureHeater, SETTLING_MILLIS } from './measure-heater.ts';
import type { HistoryKey, ProbeMemory, StationKey, StationMemory, WatchState } from '../state/memory.ts';
import { hoursAt } from '../findings/station-input.ts';

/** Without a closed cycle for so long, and within so little, control is steady. */
const STEADY_AFTER_MILLIS = 40 * 60_000;
/** A thermostat that stops cycling is a fault before it is a habit. */
const STEADY_AFTER_PERIODS = 5;
const STEADY_CELSIUS = 2;
/** A heater turns within minutes; a room within the hour. */
const TREND_SECONDS = { heater: 120, place: 1200 };

/** Takes the present value of the station into everything that is measured of it. */
export function measureStation(
  draft: Draft,
  plan: StationPlan,
  memory: StationMemory,
  lastAt: number,
  probe: ProbeMemory,
): void {
  const { at, celsius } = memory;
  const { periodSeconds } = probe;
  const least = plan.isHeater ? TREND_SECONDS.heater : TREND_SECONDS.place;
  if (memory.trend === null) memory.trend = startTrend(at, celsius);
  else advanceTrend(memory.trend, at, celsius, Math.max(least, 3 * periodSeconds));
  measureHistory(draft, plan, memory, probe.signal);
  if (plan.isHeater) measureHeater(draft, plan, memory, lastAt, probe);
  else memory.overnight = advanceOvernight(memory.overnight, hoursAt(draft.lab.site, at), at, celsius);
  if (!plan.isPot) return;
  measureFall(plan, memory, periodSeconds);
  measureCharges(draft.lab, plan, memory);
}

function measureCharges(lab: Lab, plan: StationPlan, memory: StationMemory): void {
  if (memory.earlierCharges.length > 0) countSeveral(lab, plan, memory);
  else if (plan.wax !== null) advanceCharge(memory.charge, memory.at, memory.celsius, plan.wax);
}

/** Apart, so that most readings make no function. */
const countSeveral = (lab: Lab, plan: StationPlan, memory: StationMemory): void => {
  const { at, celsius } = memory;
  countCharges(lab, plan, memory, (charge, wax) => chargeDoseStep(charge, at, celsius, wax));
};

function measureHistory(draft: Draft, plan: StationPlan, memory: StationMemory, signal: ProbeSignal): void {
  const { at, celsius, tenMinutes } = memory;
  if (tenMinutes === null) memory.tenMinutes = startTenMinutes(at, celsius);
  else if (!advanceTenMinutes(tenMinutes, at, celsius)) {
    const isStill = isStuck(draft, plan);
    if (!isStill) {
      learnFromSteady(plan, memory, tenMinutes, signal);
      if (memory.band !== null && memory.activity?.kind === 'hot') stillStep(memory.band, tenMinutes);
    }
    if (plan.isHeater) measureBelow(plan, memory, tenMinutes);
    if (plan.isPot) {
      if (!isStill) measureSinking(plan, memory, tenMinutes);
      measureFallsOf(plan, memory, tenMinutes, stepOf(signal));
      measureRest(draft, plan, memory, tenMinutes);
    }
    const closed = withClosed(closedHistory(draft.parts, plan.historyKey), tenMinutes, at);
    putHistory(draft, plan.historyKey, closed);
    if (plan.isPot && memory.activity?.kind === 'hot' && memory.band !== null)
      memory.band.reference = followOvernight(memory.band, closed, memory.activity.since);
    memory.tenMinutes = startTenMinutes(at, celsius);
  }
}

/** Ten minutes of a heater are over. */
function measureBelow({ limits }: StationPlan, memory: StationMemory, stretch: TenMinutes): void {
  const { celsius } = meanOf(stretch);
  if (memory.activity?.kind !== 'hot' || celsius >= (limits.windowLow?.value ?? celsius)) return;
  const called = memory.conditions['outside-window'];
  const isAnnounced = called?.phase === 'on' && called.evidence.side === 'below';
  const below = belowWindowStep(memory.belowWindow, memory.at, celsius, isAnnounced);
  if (below !== undefined) memory.belowWindow = below;
  else if (memory.belowWindow !== undefined) delete memory.belowWindow;
}

/** What a stuck probe reads of its heater is no habit: the turns that it shows again would be far below it. */
const isStuck = ({ parts }: Draft, { probes }: StationPlan): boolean =>
  probes.some(({ key }) => parts[key]?.conditions['probe-stuck'] !== undefined);

/** Ten minutes without a whole cycle, as proportional control or a slow thermostat makes them. */
function learnFromSteady(
  plan: StationPlan,
  { activity, band, conditions }: StationMemory,
  { at, low, high }: TenMinutes,
  signal: ProbeSignal,
): void {
  if (low < (plan.limits.windowLow?.value ?? 0) - LEARN_BELOW_WINDOW) return;
  // Wax that freezes or melts holds still without any control.
  if (plan.isPot && plan.wax !== null && low < plan.wax.melting.high.value) return;
  if (activity?.kind !== 'hot' || band === null || at - activity.since < SETTLING_MILLIS) return;
  const lastCycle = band.cycles.at(-1)?.at ?? 0;
  const { fallSeconds, riseSeconds } = band.usual ?? { fallSeconds: 0, riseSeconds: 0 };
  const after = Math.max(STEADY_AFTER_MILLIS, STEADY_AFTER_PERIODS * 1000 * (riseSeconds + fallSeconds));
  if (at - lastCycle > after && high - low < STEADY_CELSIUS)
    addSteady(band, at, low, high, isCalm(conditions) && !isElsewhere(band.usual, signal, at, high));
}

/** Ten minutes of a pot that had settled at work when they began. */
function measureSinking(plan: StationPlan, memory: StationMemory, stretch: TenMinutes): void {
  const { activity, disturbedAt, sinking = null } = memory;
  if (activity?.kind !== 'hot' || stretch.at - activity.since < SETTLING_MILLIS) return;
  if (stretch.high < (plan.limits.windowLow?.value ?? 0) - LEARN_BELOW_WINDOW) return;
  memory.sinking = sinkingStep(sinking, stretch, disturbedAt);
}

/** Steady for so long it gives off no heat any more. */
const REST_HOURS = 2;
const REST_CELSIUS = 1.2;
const FRESH_MILLIS = 15 * 60_000;
/** A pot follows the air around it so much later at most. Engineering estimate. */
const LAG_HOURS = 4;
/** More places add nothing, and a large lab has hundreds. */
const MOST_AROUND = 8;

/** `newest`: the stretch that is over; the value that ended it may be the first of a warm-up. */
function measureRest(draft: Draft, plan: StationPlan, memory: StationMemory, newest: TenMinutes): void {
  const { activity, at } = memory;
  if (activity?.kind !== 'cold' || !isSteady(draft.parts, plan.historyKey, newest)) return;
  const rests: Record<StationKey, Rest> = {};
  let free = MOST_AROUND - Object.keys(memory.restFrom ?? {}).length;
  for (const { historyKey, isPot, key, kindFacts, station } of draft.plan.stations.values()) {
    const before = memory.restFrom?.[key];
    if (before !== undefined) rests[key] = before;
    const neighbour = draft.parts[key];
    if (key === plan.key || neighbour === undefined || at - neighbour.at > FRESH_MILLIS) continue;
    const isRoomLike = stores(station.kind) && !kindFacts.hasDoor;
    const isOff = isPot && neighbour.activity?.kind === 'cold';
    // What it does now counts too: a pot that has just been switched on is no surrounding.
    const isStill = isSteady(draft.parts, historyKey, neighbour.tenMinutes);
    if ((before === undefined && free === 0) || !(isRoomLike || isOff) || !isStill) continue;
    if (before === undefined) free -= 1;
    const { celsius } = meanOf(newest);
    const around = extremesOfLast(
      { closed: closedHistory(draft.parts, historyKey), open: neighbour.tenMinutes },
      LAG_HOURS,
    );
    rests[key] = restStep(before, at, celsius - neighbour.celsius, {
      least: celsius - (around?.high ?? neighbour.celsius),
      most: celsius - (around?.low ?? neighbour.celsius),
    });
  }
  memory.restFrom = rests;
}

function isSteady(state: WatchState, key: HistoryKey, newest: TenMinutes | null = null): boolean {
  const closed = closedHistory(state, key);
  const first = closed.length - REST_HOURS * 6;
  if (first < 0) return false;
  let low = newest?.low ?? Number.POSITIVE_INFINITY;
  let high = newest?.high ?? Number.NEGATIVE_INFINITY;
  for (const stretch of closed.slice(first)) {
    low = Math.min(low, stretch.low);
    high = Math.max(high, stretch.high);
  }
  return high - low < REST_CELSIUS;
}
