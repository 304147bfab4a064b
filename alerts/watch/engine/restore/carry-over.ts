// The parts of an earlier layout in the present one: nothing that people did or that wax went through is lost. What is
// usual for a heater or a probe is learned anew, because it was measured differently.

import { relaxationStart } from '../../../../wax/relaxation/relaxation.ts';
import { RULE_KINDS, type RuleKind } from '../../rules/all-rules.ts';
import { createProbeMemory, createStationMemory } from '../state/copy-parts.ts';
import type {
  EarlierAlarms,
  EarlierConditions,
  EarlierGateway,
  EarlierPattern,
  EarlierProbe,
  EarlierStation,
  SummedPattern,
} from './earlier-layout.ts';
import type {
  Conditions,
  GatewayMemory,
  PatternMemory,
  ProbeMemory,
  SiteMemory,
  StationMemory,
  SubjectAlarms,
} from '../state/memory.ts';

/** Those of the rules that there are, in the order of the rules. */
function byRule<Value>(values: Readonly<Record<string, Value>>): { [Kind in RuleKind]?: Value } {
  const found: { [Kind in RuleKind]?: Value } = {};
  for (const kind of RULE_KINDS) {
    const value = values[kind];
    if (value !== undefined) found[kind] = value;
  }
  return found;
}

function conditionsOf(earlier: EarlierConditions): Conditions {
  const conditions: Conditions = {};
  for (const kind of RULE_KINDS) {
    const condition = earlier[kind];
    if (condition !== undefined)
      conditions[kind] = condition.phase === 'pending' ? { ...condition, samples: 1 } : condition;
  }
  return conditions;
}

export const stationOf = (earlier: EarlierStation): StationMemory => ({
  ...createStationMemory(),
  at: earlier.at,
  celsius: earlier.celsius,
  uncertainty: earlier.uncertainty,
  trend: earlier.trend,
  tenMinutes: earlier.bucket,
  activity: earlier.activity,
  charge: earlier.charge,
  hotHoursBefore: earlier.hotHoursBefore,
  earlierCharges: (earlier.earlierCharges ?? []).map(({ toldAt, ...charge }) => ({
    ...charge,
    recordedAt: toldAt,
  })),
  plannedOff: earlier.plannedOff,
  plannedOnAt: earlier.plannedOnAt,
  load: earlier.load,
  warmUp: earlier.warmUp && { ...earlier.warmUp, startMinute: 0, startDays: 0, startedAt: 0 },
  overnight: earlier.night,
  conditions: conditionsOf(earlier.rules),
});

/** `now`: of the watch when it was stored. Arrival was not; a probe that was not silent had arrived of late. */
export const probeOf = (
  { newestAt, celsius, readings, periodSeconds, rules }: EarlierProbe,
  now: number,
): ProbeMemory => ({
  ...createProbeMemory(newestAt, celsius),
  receivedAt: rules['probe-silent'] === undefined ? Math.max(now, newestAt) : newestAt,
  readings,
  periodSeconds,
  conditions: conditionsOf(rules),
});

export const gatewayOf = ({ online, changedAt, heardAt, backAt, rules }: EarlierGateway): GatewayMemory => ({
  online,
  changedAt,
  receivedAt: heardAt,
  backAt,
  conditions: conditionsOf(rules),
});

/** Of a time before gaps were told apart there is no sum of them. */
const carryHeat = ({ relaxation, mkt, rainflow, ...sums }: Omit<SummedPattern, 'conditions'>) => ({
  relaxation: { ...relaxationStart(relaxation.at), ...relaxation },
  mkt,
  rainflow,
  swings: sums.swings,
  largestSwing: sums.largestSwing,
  minutesTooWarm: sums.minutesTooWarm,
});

export const summedPatternOf = (summed: SummedPattern): PatternMemory => ({
  at: summed.relaxation.readings > 0 ? summed.relaxation.at : 0,
  celsius: summed.relaxation.celsius,
  stayFrom: 0,
  carried: summed.relaxation.readings > 0 ? carryHeat(summed) : null,
  outlook: null,
  conditions: summed.conditions,
});

export const patternOf = ({ rules, ...pattern }: EarlierPattern): PatternMemory =>
  summedPatternOf({ ...pattern, conditions: conditionsOf(rules) });

export const alarmsOf = (earlier: EarlierAlarms): SubjectAlarms => byRule(earlier);

export const siteOf = (earlier: Readonly<Record<string, EarlierConditions>>): SiteMemory =>
  Object.entries(earlier).map(([subject, conditions]) => [subject, conditionsOf(conditions)] as const);
