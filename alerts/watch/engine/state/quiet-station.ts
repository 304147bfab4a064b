// Which rules of a station are due at a reading. Most do not hold and cannot begin to within the bounds that they drew at
// their last evaluation; what was worked out once is read off as long as nothing that it rests on has changed. Nothing
// of it is stored: it changes no outcome, and after a start the first reading of a station evaluates all its rules.

import type { StationInput } from '../../rule/rule-input.ts';
import type { StationRule } from '../../rule/rule.ts';
import type { Activity } from '../../measures/activity.ts';
import type { DoorSigns } from '../../measures/door-signs.ts';
import type { HeaterBand } from '../../measures/heater-band.ts';
import type { Load } from '../../measures/load.ts';
import { celsiusPerHour } from '../../measures/trend.ts';
import { type DrawnBounds, QuietBounds } from '../../rule/quiet-bounds.ts';
import type { RuleKind } from '../../rules/all-rules.ts';
import type { StationPlan } from './lab-plan.ts';
import type { PlannedRule } from './planned-rules.ts';
import type { StationMemory, WatchState } from './memory.ts';

type PlannedStationRule = PlannedRule<StationRule<RuleKind>>;

export interface QuietStation {
  readonly bounds: DrawnBounds;
  /** Those that hold, or drew no bounds. */
  readonly due: readonly PlannedStationRule[];
  readonly activity: Activity | null;
  /** Start of the open ten minutes: while it is the same, so are the closed ones. */
  readonly tenMinutesAt: number;
  readonly cycles: HeaterBand['cycles'] | undefined;
  readonly load: Load | null;
  readonly openings: DoorSigns['openings'] | undefined;
  readonly plannedOff: boolean;
  readonly plannedOnAt: number | null;
  readonly intents: StationMemory['intents'];
  readonly uncertainty: number;
}

/** The rules that must be evaluated now; null: all of them. */
export const dueRules = (
  quiet: QuietStation | undefined,
  plan: StationPlan,
  memory: StationMemory,
  state: WatchState,
): readonly PlannedStationRule[] | null =>
  quiet !== undefined &&
  isAsItWas(quiet, memory) &&
  isWithin(quiet.bounds, memory) &&
  areWithin(quiet.bounds, plan, state)
    ? quiet.due
    : null;

/** To be called when all rules have been evaluated. */
export function drawQuietBounds(plan: StationPlan, memory: StationMemory, input: StationInput): QuietStation {
  const bounds = new QuietBounds(input);
  for (const { until } of memory.intents ?? []) bounds.until(until);
  const due: PlannedStationRule[] = [];
  for (const planned of plan.rules) {
    const { rule, values } = planned;
    const isQuiet =
      memory.conditions[rule.kind] === undefined && rule.staysQuiet?.(input, values, bounds) === true;
    if (!isQuiet) due.push(planned);
  }
  return {
    bounds: bounds.drawn,
    due,
    activity: memory.activity,
    tenMinutesAt: memory.tenMinutes?.at ?? 0,
    cycles: memory.band?.cycles,
    load: memory.load,
    openings: memory.doors?.openings,
    plannedOff: memory.plannedOff,
    plannedOnAt: memory.plannedOnAt,
    intents: memory.intents,
    uncertainty: memory.uncertainty,
  };
}

const isAsItWas = (quiet: QuietStation, memory: StationMemory): boolean =>
  quiet.activity === memory.activity &&
  quiet.tenMinutesAt === memory.tenMinutes?.at &&
  quiet.cycles === memory.band?.cycles &&
  quiet.load === memory.load &&
  quiet.openings === memory.doors?.openings &&
  quiet.plannedOff === memory.plannedOff &&
  quiet.plannedOnAt === memory.plannedOnAt &&
  quiet.intents === memory.intents &&
  quiet.uncertainty === memory.uncertainty;

function isWithin(
  bounds: DrawnBounds,
  { at, celsius, charge, doors, hotHoursBefore, recent, trend }: StationMemory,
) {
  if (!(at < bounds.before && celsius > bounds.celsiusAbove && celsius < bounds.celsiusBelow)) return false;
  if (!(charge.dose.hours < bounds.doseHoursBelow)) return false;
  if (!(hotHoursBefore + charge.dose.hotSeconds / 3600 < bounds.hotHoursBelow)) return false;
  if (recent !== null && !(recent.mean > bounds.meanAbove && recent.mean < bounds.meanBelow)) return false;
  if (doors != null && !(Math.abs(doors.spread) < bounds.spreadBelow)) return false;
  if (bounds.rateBelow === Number.POSITIVE_INFINITY && bounds.rateAbove === Number.NEGATIVE_INFINITY)
    return true;
  const rate = celsiusPerHour(trend);
  return rate !== null && rate > bounds.rateAbove && rate < bounds.rateBelow;
}

/** Each probe of several, also one that sends no more. */
function areWithin(
  { probesAbove, probesBelow }: DrawnBounds,
  { probes }: StationPlan,
  state: WatchState,
): boolean {
  if (probesBelow === Number.POSITIVE_INFINITY && probesAbove === Number.NEGATIVE_INFINITY) return true;
  for (const { key } of probes) {
    const { celsius } = state[key] ?? {};
    if (celsius !== undefined && !(celsius > probesAbove && celsius < probesBelow)) return false;
  }
  return true;
}
