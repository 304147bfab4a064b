// What the rules of a station are evaluated on, read off what is remembered of it.

import { minuteOfDay, stretchAt, type Stretch } from '../../../../lab/calendar.ts';
import type { Intent } from '../../../../lab/intent.ts';
import type { IntentKind } from '../../../../lab/intent-kind.ts';
import type { Lab, Site } from '../../../../lab/lab.ts';
import { isThermostatic } from '../../../../lab/station-kinds.ts';
import { epochMillis } from '../../../../wax/units.ts';
import { celsiusPerHour } from '../../measures/trend.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { closedHistory } from '../state/draft.ts';
import { freshProbes } from '../state/freshness.ts';
import type { StationPlan } from '../state/lab-plan.ts';
import { stationKey, type StationMemory, type WatchState } from '../state/memory.ts';
import { outlooksAt } from './patterns.ts';

export const hoursAt = (site: Site, at: number): Stretch => stretchAt(site, epochMillis(at));

const ALONE: StationInput['probes'] = [];
const NO_INTENTS: readonly Intent[] = [];
/** The newest reading may be older than what is entered after it; what a backlog shows of days before is not what was meant. */
const SAID_AFTER_MILLIS = 10 * 60_000;

/**
 * What the rules of the station are evaluated on, as it is remembered now. Read off the memory when a rule needs it, because
 * most rules of most readings need little.
 */
class MeasuredStation implements StationInput {
  readonly #lab: Lab;
  readonly #plan: StationPlan;
  readonly #memory: StationMemory;
  readonly #state: WatchState;
  #hours: Stretch | null = null;
  #probes: StationInput['probes'] | null = null;
  #patterns: StationInput['patterns'] | null = null;
  #dose: StationInput['dose'] | undefined;

  constructor(lab: Lab, plan: StationPlan, memory: StationMemory, state: WatchState) {
    this.#lab = lab;
    this.#plan = plan;
    this.#memory = memory;
    this.#state = state;
  }

  get hours() {
    this.#hours ??= hoursAt(this.#lab.site, this.#memory.at);
    return this.#hours;
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
    return this.hours.open ? closureAfter(this.#lab.site, this.hours) : null;
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
    return this.#memory.plannedOff || this.meantUntil('off-today') !== null;
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
  get sinking() {
    return this.#memory.sinking ?? null;
  }
  get workFalls() {
    return this.#memory.workFalls ?? null;
  }
  get rests() {
    return Object.values(this.#memory.restFrom ?? {});
  }
  get overshoot() {
    return this.#memory.overshoot;
  }
  get lift() {
    return this.#memory.lift ?? 0;
  }
  get belowWindow() {
    return this.#memory.belowWindow ?? null;
  }
  get disturbedAt() {
    return this.#memory.disturbedAt;
  }
  get fellEarlyAt() {
    return this.#memory.fellEarlyAt ?? 0;
  }
  get doors() {
    return this.#memory.doors ?? null;
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

  meantUntil(kind: IntentKind): number | null {
    for (const { kind: meant, since, until } of this.#memory.intents ?? NO_INTENTS)
      if (meant === kind && since - SAID_AFTER_MILLIS <= this.at && this.at < until) return until;
    return null;
  }

  minuteOfDay(): number {
    return minuteOfDay(this.#lab.site, this.at);
  }

  othersAtWork(): boolean | null {
    return othersAtWork(this.#lab, this.#plan, this.#state, this.at);
  }

  workedAroundAt(): number {
    return newestWorkAround(this.#lab, this.#plan, this.#state);
  }
}

export const stationInput = (
  lab: Lab,
  plan: StationPlan,
  memory: StationMemory,
  state: WatchState,
): StationInput => new MeasuredStation(lab, plan, memory, state);

/** A heater that stays on around the clock shows nobody: it was switched on, or worked at, within so long. */
const AT_WORK_MILLIS = 6 * 3_600_000;
function othersAtWork(lab: Lab, plan: StationPlan, state: WatchState, at: number): boolean | null {
  const others = lab.stations.filter(({ id, kind }) => id !== plan.station.id && isThermostatic(kind));
  if (others.length === 0) return null;
  const isSwitchedOn = others.some(({ id }) => {
    const activity = state[stationKey(id)]?.activity;
    return activity != null && activity.kind !== 'cold' && at - activity.since < AT_WORK_MILLIS;
  });
  return isSwitchedOn || at - newestWorkAround(lab, plan, state) < AT_WORK_MILLIS;
}

/** By cold wax, cold pieces, lids and doors of heaters that are on; one that is off falls without anybody. */
function newestWorkAround(lab: Lab, { station }: StationPlan, state: WatchState): number {
  let newest = 0;
  for (const { id, kind } of lab.stations) {
    const other = id === station.id || !isThermostatic(kind) ? undefined : state[stationKey(id)];
    if (other?.activity?.kind !== 'hot') continue;
    const fall = other.workFalls?.falls.at(-1)?.at ?? 0;
    const door = other.doors?.openings.at(-1)?.at ?? 0;
    newest = Math.max(newest, other.disturbedAt, fall, door);
  }
  return newest;
}

export function doseOf(plan: StationPlan, memory: StationMemory): StationInput['dose'] {
  if (plan.wax === null) return null;
  const { hours } = memory.charge.dose;
  const allowance = plan.wax.doseAllowance.value;
  return { hours, allowance, share: hours / allowance };
}

const closures = new WeakMap<Site, { readonly after: number; readonly closure: Stretch }>();

/** A pause for lunch too: the caller compares its length. */
function closureAfter(site: Site, open: Stretch): Stretch | null {
  if (open.to === null) return null;
  const remembered = closures.get(site);
  if (remembered?.after === open.to) return remembered.closure;
  // Looking up another stretch costs the calendar its quick answer, so it is done once for each closing.
  const closure = hoursAt(site, open.to);
  closures.set(site, { after: open.to, closure });
  return closure;
}
