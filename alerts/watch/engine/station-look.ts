// Every rule of a station looks once at what was measured.

import type { Stretch } from '../../../lab/calendar.ts';
import type { Site } from '../../../lab/lab.ts';
import { celsiusPerHour } from '../measures/trend.ts';
import type { StationRule } from '../rule/rule.ts';
import type { RuleKind } from '../rule/rule-kind.ts';
import type { StationSight } from '../rule/rule-input.ts';
import { freshProbes } from './fresh-probes.ts';
import type { PlannedRule, StationPlan } from './lab-plan.ts';
import { hoursAt } from './measure.ts';
import type { Conditions, StationMemory } from './memory.ts';
import { outlooksAt } from './patterns.ts';
import { hide, judge, type Moment } from './tell.ts';
import { alarmsAbout, closedBuckets, type Work } from './work.ts';

export function lookAtStation(work: Work, plan: StationPlan, memory: StationMemory, moment: Moment): void {
  const sight = sightOf(work, plan, memory);
  const id = plan.station.id;
  const isQuiet = hasNone(memory.rules);
  for (const planned of plan.rules) {
    const look = planned.rule.look(sight, planned.values);
    if (typeof look === 'string' && (isQuiet || memory.rules[planned.rule.kind] === undefined)) continue;
    judge(work, memory.rules, planned, id, look, moment, () => hiddenReason(planned, sight, memory));
  }
  if (alarmsAbout(work.parts, id) === undefined) return;
  for (const planned of plan.rules) {
    const reason = isUp(memory, planned.rule.kind) ? hiddenReason(planned, sight, memory) : null;
    hide(work, planned.rule, id, reason, moment.at);
  }
}

/** Nothing pending and nothing up: nearly always so. */
export function hasNone(conditions: Conditions): boolean {
  for (const _ in conditions) return false;
  return true;
}

export const isUp = (memory: StationMemory, kind: RuleKind): boolean => memory.rules[kind]?.phase === 'on';

function hiddenReason(
  { rule, values }: PlannedRule<StationRule>,
  sight: StationSight,
  memory: StationMemory,
): string | null {
  const cause = rule.hiddenBehind?.find((kind) => isUp(memory, kind));
  return cause !== undefined ? `behind:${cause}` : (rule.suppressedBy?.(sight, values) ?? null);
}

const ALONE: StationSight['probes'] = [];

export function sightOf(work: Work, plan: StationPlan, memory: StationMemory): StationSight {
  const { at } = memory;
  const hours = hoursAt(work.lab.site, at);
  return {
    station: plan.station,
    limits: plan.limits,
    wax: plan.wax,
    at,
    celsius: memory.celsius,
    uncertainty: memory.uncertainty,
    celsiusPerHour: celsiusPerHour(memory.trend),
    probes: plan.probes.length > 1 ? freshProbes(plan, memory, at) : ALONE,
    hours,
    nextClosure: plan.patterns.length > 0 && hours.open ? closureAfter(work.lab.site, hours) : null,
    activity: memory.activity,
    past: { closed: closedBuckets(work.parts, plan.pastName), open: memory.bucket },
    minutesToCeiling: memory.minutesToCeiling,
    dose: plan.isPot ? doseOf(plan, memory) : null,
    hotHoursSinceCleaned: memory.hotHoursBefore + memory.charge.dose.hotSeconds / 3600,
    plannedOff: memory.plannedOff,
    plannedOnAt: memory.plannedOnAt,
    load: memory.load,
    warmUp: memory.warmUp,
    thermostat: memory.thermostatDrift,
    night: memory.night,
    patterns: outlooksAt(work.parts, plan),
  };
}

export function doseOf(plan: StationPlan, memory: StationMemory): StationSight['dose'] {
  if (plan.wax === null) return null;
  const { hours } = memory.charge.dose;
  const allowance = plan.wax.doseAllowance.value;
  return { hours, allowance, share: hours / allowance };
}

const closures = new WeakMap<Site, { readonly after: number; readonly closure: Stretch }>();

/** Lunch is no closure that a pattern waits over; the caller asks for its length. */
function closureAfter(site: Site, open: Stretch): Stretch | null {
  if (open.to === null) return null;
  const known = closures.get(site);
  if (known?.after === open.to) return known.closure;
  // Asking for another stretch costs the calendar its quick answer, so it is asked once for each closing.
  const closure = hoursAt(site, open.to);
  closures.set(site, { after: open.to, closure });
  return closure;
}
