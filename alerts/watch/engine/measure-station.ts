// What is measured of a station at each new value: trend, history, activity, curve, dose, cycles; and all of it together
// as the input of its rules. Costly measures are taken a little less often than readings may come; by sample time, so
// that a replay measures the same.

import { minuteOfDay, stretchAt, type Stretch } from '../../../lab/calendar.ts';
import { isThermostatic, STATION_KIND_FACTS, stores } from '../../../lab/station-kinds.ts';
import type { Intent } from '../../../lab/intent.ts';
import type { IntentKind } from '../../../lab/intent-kind.ts';
import type { Lab, Site } from '../../../lab/lab.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import { chargeDoseStep } from '../measures/charge-dose.ts';
import type { ProbeSignal } from '../measures/probe-signal.ts';
import { learnSteady } from '../measures/heater-band.ts';
import { advanceOvernight } from '../measures/overnight-extremes.ts';
import {
  advanceTenMinutes,
  meanOf,
  startTenMinutes,
  type TenMinutes,
  withClosed,
} from '../measures/ten-minutes.ts';
import { advanceTrend, celsiusPerHour, startTrend } from '../measures/trend.ts';
import { restStep } from '../measures/rest.ts';
import type { StationInput } from '../rule/rule-input.ts';
import { countCharges } from './charge-acts.ts';
import { closedHistory, type Draft, putHistory } from './draft.ts';
import { freshProbes } from './freshness.ts';
import type { StationPlan } from './lab-plan.ts';
import { isCalm, LEARN_BELOW_WINDOW, measureHeater, SETTLING_MILLIS } from './measure-heater.ts';
import { type HistoryKey, historyKey, stationKey, type StationMemory, type WatchState } from './memory.ts';
import { outlooksAt } from './patterns.ts';

/** Without a closed cycle for so long, and within so little, control is steady. */
const STEADY_AFTER_MILLIS = 40 * 60_000;
const STEADY_CELSIUS = 2;
/** A heater turns within minutes; a room within the hour. */
const TREND_SECONDS = { heater: 120, place: 1200 };

/** Takes the present value of the station into everything that is measured of it. */
export function measureStation(
  draft: Draft,
  plan: StationPlan,
  memory: StationMemory,
  lastAt: number,
  signal: ProbeSignal,
  periodSeconds: number,
): void {
  const { at, celsius } = memory;
  const least = plan.isHeater ? TREND_SECONDS.heater : TREND_SECONDS.place;
  if (memory.trend === null) memory.trend = startTrend(at, celsius);
  else advanceTrend(memory.trend, at, celsius, Math.max(least, 3 * periodSeconds));
  measureHistory(draft, plan, memory);
  if (plan.isHeater) measureHeater(draft.lab.site, plan, memory, lastAt, signal, periodSeconds);
  else memory.overnight = advanceOvernight(memory.overnight, hoursAt(draft.lab.site, at), at, celsius);
  if (plan.isPot) measureCharges(draft.lab, plan, memory);
}

function measureCharges(lab: Lab, plan: StationPlan, memory: StationMemory): void {
  const { at, celsius } = memory;
  // Apart, so that most readings make no function.
  if (memory.earlierCharges.length > 0)
    countCharges(lab, plan, memory, (charge, wax) => chargeDoseStep(charge, at, celsius, wax));
  else if (plan.wax !== null) memory.charge = chargeDoseStep(memory.charge, at, celsius, plan.wax);
}

const hoursAt = (site: Site, at: number): Stretch => stretchAt(site, at as EpochMillis);

function measureHistory(draft: Draft, plan: StationPlan, memory: StationMemory): void {
  const { at, celsius, tenMinutes } = memory;
  if (tenMinutes === null) memory.tenMinutes = startTenMinutes(at, celsius);
  else if (!advanceTenMinutes(tenMinutes, at, celsius)) {
    learnFromSteady(plan, memory, tenMinutes);
    if (plan.isPot) measureRest(draft, plan, memory, tenMinutes);
    putHistory(
      draft,
      plan.historyKey,
      withClosed(closedHistory(draft.parts, plan.historyKey), tenMinutes, at),
    );
    memory.tenMinutes = startTenMinutes(at, celsius);
  }
}

/** Ten minutes without a whole cycle, as proportional control or a slow thermostat makes them. */
function learnFromSteady(
  plan: StationPlan,
  { activity, band, conditions }: StationMemory,
  { at, low, high }: TenMinutes,
): void {
  if (low < (plan.limits.windowLow?.value ?? 0) - LEARN_BELOW_WINDOW) return;
  if (activity?.kind !== 'hot' || band === null || at - activity.since < SETTLING_MILLIS) return;
  const lastCycle = band.cycles.at(-1)?.at ?? 0;
  if (at - lastCycle > STEADY_AFTER_MILLIS && high - low < STEADY_CELSIUS && isCalm(conditions))
    learnSteady(band, at, low, high);
}

/** Steady for so long it gives off no heat any more. */
const REST_HOURS = 2;
const REST_CELSIUS = 1.2;
const FRESH_MILLIS = 15 * 60_000;

/** `newest`: the stretch that is over; the value that ended it may be the first of a warm-up. */
function measureRest(draft: Draft, plan: StationPlan, memory: StationMemory, newest: TenMinutes): void {
  const { activity, at } = memory;
  if (activity?.kind !== 'cold' || !isSteady(draft.parts, plan.historyKey, newest)) return;
  const around = draft.lab.stations.flatMap(({ id, kind }) => {
    const other = draft.parts[stationKey(id)];
    const facts = STATION_KIND_FACTS[kind];
    const isRoomLike = stores(kind) && !facts.hasDoor;
    const isOff = facts.holdsMeltedWax && other?.activity?.kind === 'cold';
    if (id === plan.station.id || other === undefined || at - other.at > FRESH_MILLIS) return [];
    return (isRoomLike || isOff) && isSteady(draft.parts, historyKey(id)) ? [other.celsius] : [];
  });
  if (around.length === 0) return;
  memory.rest = restStep(memory.rest ?? null, at, meanOf(newest).celsius - median(around));
}

function isSteady(state: WatchState, key: HistoryKey, newest: TenMinutes | null = null): boolean {
  const before = closedHistory(state, key).slice(-REST_HOURS * 6);
  if (before.length < REST_HOURS * 6) return false;
  const closed = newest === null ? before : [...before, newest];
  const low = Math.min(...closed.map((stretch) => stretch.low));
  return Math.max(...closed.map((stretch) => stretch.high)) - low < REST_CELSIUS;
}

const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = (sorted.length - 1) / 2;
  return ((sorted[Math.floor(middle)] ?? 0) + (sorted[Math.ceil(middle)] ?? 0)) / 2;
};

const ALONE: StationInput['probes'] = [];
const NO_INTENTS: readonly Intent[] = [];
const NO_TOPS: StationInput['openingTops'] = [];

/**
 * What the rules of the station are evaluated on, as it is remembered now. Read off the memory when a rule asks, because
 * most rules of most readings ask for little.
 */
class MeasuredStation implements StationInput {
  readonly hours: Stretch;
  readonly #lab: Lab;
  readonly #plan: StationPlan;
  readonly #memory: StationMemory;
  readonly #state: WatchState;
  #probes: StationInput['probes'] | null = null;
  #patterns: StationInput['patterns'] | null = null;
  #dose: StationInput['dose'] | undefined;

  constructor(lab: Lab, plan: StationPlan, memory: StationMemory, state: WatchState) {
    this.#lab = lab;
    this.#plan = plan;
    this.#memory = memory;
    this.#state = state;
    this.hours = hoursAt(lab.site, memory.at);
  }

  get station() {
    return this.#plan.station;
  }
  get limits() {
    return this.#plan.limits;
  }
  get wax() {
    return this.#plan.wax;
  }
  get at() {
    return this.#memory.at;
  }
  get celsius() {
    return this.#memory.celsius;
  }
  get uncertainty() {
    return this.#memory.uncertainty;
  }
  get celsiusPerHour() {
    return celsiusPerHour(this.#memory.trend);
  }
  get probes() {
    if (this.#plan.probes.length < 2) return ALONE;
    this.#probes ??= freshProbes(this.#plan, this.#state, this.#memory.at);
    return this.#probes;
  }
  get nextClosure() {
    const mayWait = this.#plan.patterns.length > 0 && this.hours.open;
    return mayWait ? closureAfter(this.#lab.site, this.hours) : null;
  }
  get activity() {
    return this.#memory.activity;
  }
  get history() {
    return { closed: closedHistory(this.#state, this.#plan.historyKey), open: this.#memory.tenMinutes };
  }
  get minutesToCeiling() {
    return this.#memory.minutesToCeiling;
  }
  get earliestToCeiling() {
    return this.#memory.earliestToCeiling ?? null;
  }
  get dose() {
    if (this.#dose === undefined) this.#dose = this.#plan.isPot ? doseOf(this.#plan, this.#memory) : null;
    return this.#dose;
  }
  get hotHoursSinceCleaned() {
    return this.#memory.hotHoursBefore + this.#memory.charge.dose.hotSeconds / 3600;
  }
  get plannedOff() {
    return this.#memory.plannedOff || this.isMeant('off-today');
  }
  get plannedOnAt() {
    return this.#memory.plannedOnAt;
  }
  get load() {
    return this.#memory.load;
  }
  get warmUp() {
    return this.#memory.warmUp;
  }
  get recent() {
    return this.#memory.recent;
  }
  get band() {
    return this.#memory.band;
  }
  get rhythm() {
    return this.#memory.rhythm ?? null;
  }
  get levelSigns() {
    return this.#memory.levelSigns ?? null;
  }
  get rest() {
    return this.#memory.rest ?? null;
  }
  get overshoot() {
    return this.#memory.overshoot;
  }
  get disturbedAt() {
    return this.#memory.disturbedAt;
  }
  get openings() {
    return this.#memory.openings;
  }
  get openingTops() {
    return this.#memory.openingTops ?? NO_TOPS;
  }
  get moltenAt() {
    return this.#memory.moltenAt;
  }
  get overnight() {
    return this.#memory.overnight;
  }
  get patterns() {
    this.#patterns ??= outlooksAt(this.#state, this.#plan);
    return this.#patterns;
  }

  isMeant(kind: IntentKind): boolean {
    const intents = this.#memory.intents ?? NO_INTENTS;
    return intents.length > 0 && intents.some((intent) => intent.kind === kind && intent.until > this.at);
  }

  minuteOfDay(): number {
    return minuteOfDay(this.#lab.site, this.at);
  }

  othersAtWork(): boolean | null {
    return othersAtWork(this.#lab, this.#plan, this.#state);
  }
}

export const stationInput = (
  lab: Lab,
  plan: StationPlan,
  memory: StationMemory,
  state: WatchState,
): StationInput => new MeasuredStation(lab, plan, memory, state);

function othersAtWork(lab: Lab, { station }: StationPlan, state: WatchState): boolean | null {
  const others = lab.stations.filter(({ id, kind }) => id !== station.id && isThermostatic(kind));
  if (others.length === 0) return null;
  return others.some(({ id }) => {
    const kind = state[stationKey(id)]?.activity?.kind;
    return kind === 'warming' || kind === 'hot';
  });
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
