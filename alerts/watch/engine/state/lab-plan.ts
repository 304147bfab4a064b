// The lab worked out for the watch once for each version of it: which probe is where, which rules apply to what, with
// which figures. A lab is an immutable value, so remembering the plan of one changes no result.

import type { Lab, Probe } from '../../../../lab/lab.ts';
import { patternsWaxClass, type StationLimits, stationLimits, waxClassAt } from '../../../../lab/limits.ts';
import type { Station } from '../../../../lab/station.ts';
import {
  heats,
  holdsMeltedWax,
  STATION_KIND_FACTS,
  type StationKindFacts,
} from '../../../../lab/station-kinds.ts';
import type { Pattern } from '../../../../lab/pattern.ts';
import { patternCare, type PatternCareValues } from '../../../../lab/pattern-care.ts';
import { type RelaxationParameters, relaxationParameters } from '../../../../wax/relaxation/relaxation.ts';
import type { Problem } from '../../../../wax/result.ts';
import type { WaxClass } from '../../../../wax/wax-class.ts';
import type { GatewayRule, PatternRule, SelfRule } from '../../rule/rule.ts';
import type { RuleKind } from '../../rules/all-rules.ts';
import {
  type AlarmsKey,
  alarmsKey,
  type CourseKey,
  courseKey,
  type GatewayKey,
  gatewayKey,
  type HistoryKey,
  historyKey,
  type PatternKey,
  patternKey,
  type ProbeKey,
  probeKey,
  type StationKey,
  stationKey,
} from './memory.ts';
import { type PlannedRule, siteRules, type StationRules, stationRules } from './planned-rules.ts';

export interface StationPlan extends StationRules {
  /** Its place in the lab; so are those of probes and gateways. */
  readonly index: number;
  readonly station: Station;
  readonly limits: StationLimits;
  readonly wax: WaxClass | null;
  readonly kindFacts: StationKindFacts;
  readonly isHeater: boolean;
  readonly isPot: boolean;
  /** Wax or water, which no air that moves can chill or warm within seconds. */
  readonly isLiquid: boolean;
  readonly key: StationKey;
  readonly alarmsKey: AlarmsKey;
  readonly historyKey: HistoryKey;
  readonly probes: readonly ProbePlan[];
  /** Those that lie here. */
  readonly patterns: readonly PatternPlan[];
}

export interface ProbePlan {
  readonly index: number;
  readonly probe: Probe;
  readonly key: ProbeKey;
  readonly alarmsKey: AlarmsKey;
  readonly station: StationPlan;
}

export interface PatternPlan {
  readonly pattern: Pattern;
  /** Null while it is out of the lab. */
  readonly station: string | null;
  readonly stayFrom: number;
  readonly wax: WaxClass;
  readonly params: RelaxationParameters;
  readonly care: PatternCareValues;
  readonly madeAt: number;
  /** The warmest that its wax may lie at, °C. */
  readonly storageMax: number;
  readonly key: PatternKey;
  readonly courseKey: CourseKey;
}

export interface ExpectedGateway {
  readonly index: number;
  readonly gateway: string;
  readonly key: GatewayKey;
  readonly alarmsKey: AlarmsKey;
  /** Probes of stations that it publishes. */
  readonly probes: readonly ProbePlan[];
}

export interface LabPlan {
  readonly stations: ReadonlyMap<string, StationPlan>;
  /** Probes of stations; unclaimed ones are not watched. */
  readonly probes: ReadonlyMap<string, ProbePlan>;
  readonly patterns: readonly PatternPlan[];
  /** Those that publish probes of stations. */
  readonly gateways: ReadonlyMap<string, ExpectedGateway>;
  readonly gatewayRules: readonly PlannedRule<GatewayRule<RuleKind>>[];
  readonly patternRules: readonly PlannedRule<PatternRule<RuleKind>>[];
  readonly selfRules: readonly PlannedRule<SelfRule<RuleKind>>[];
  /** Settings of rules that were refused; their defaults hold. */
  readonly problems: readonly Problem[];
}

const plans = new WeakMap<Lab, LabPlan>();

export function labPlan(lab: Lab): LabPlan {
  const remembered = plans.get(lab);
  if (remembered !== undefined) return remembered;
  const plan = workOut(lab);
  plans.set(lab, plan);
  return plan;
}

/** Its probes are added one by one. */
type Growing = StationPlan & { readonly probes: ProbePlan[] };

function workOut(lab: Lab): LabPlan {
  const problems: Problem[] = [];
  const patterns = lab.patterns.flatMap((pattern) => patternPlan(pattern, lab));
  const rulesOf = stationRules(problems);
  const stations = new Map<string, Growing>();
  for (const [index, station] of lab.stations.entries()) {
    const limits = stationLimits(station, lab);
    stations.set(station.id, {
      index,
      station,
      limits,
      wax: waxClassAt(station, lab),
      kindFacts: STATION_KIND_FACTS[station.kind],
      isHeater: heats(station.kind),
      isPot: holdsMeltedWax(station.kind),
      isLiquid: holdsMeltedWax(station.kind) || STATION_KIND_FACTS[station.kind].window === 'bath',
      key: stationKey(station.id),
      alarmsKey: alarmsKey(station.id),
      historyKey: historyKey(station.id),
      probes: [],
      patterns: patterns.filter((pattern) => pattern.station === station.id),
      ...rulesOf(station, limits),
    });
  }
  const probes = new Map<string, ProbePlan>();
  for (const probe of lab.probes) {
    const station = probe.station === null ? undefined : stations.get(probe.station);
    if (station === undefined) continue;
    const index = probes.size;
    const plan = { index, probe, key: probeKey(probe.id), alarmsKey: alarmsKey(probe.id), station };
    probes.set(probe.id, plan);
    station.probes.push(plan);
  }
  return {
    stations,
    probes,
    patterns,
    gateways: gatewayPlans([...probes.values()]),
    gatewayRules: siteRules('gateway', lab.site, problems),
    patternRules: siteRules('pattern', lab.site, problems),
    selfRules: siteRules('self', lab.site, problems),
    problems,
  };
}

function gatewayPlans(probes: readonly ProbePlan[]): ReadonlyMap<string, ExpectedGateway> {
  const gateways = new Map<string, ExpectedGateway>();
  for (const plan of probes) {
    const { gateway } = plan.probe;
    const before = gateways.get(gateway);
    gateways.set(gateway, {
      index: before?.index ?? gateways.size,
      gateway,
      key: gatewayKey(gateway),
      alarmsKey: alarmsKey(gateway),
      probes: [...(before?.probes ?? []), plan],
    });
  }
  return gateways;
}

function patternPlan(pattern: Pattern, lab: Lab): readonly PatternPlan[] {
  const stay = pattern.stays.at(-1);
  if (pattern.fate !== null) return [];
  const wax = patternsWaxClass(pattern, lab);
  return [
    {
      pattern,
      wax,
      station: stay === undefined || stay.to !== null ? null : stay.station,
      stayFrom: Date.parse(stay?.from ?? pattern.madeAt),
      params: relaxationParameters(wax),
      care: patternCare(lab.site.patternCare),
      madeAt: Date.parse(pattern.madeAt),
      storageMax: wax.storageMax.value,
      key: patternKey(pattern.id),
      courseKey: courseKey(pattern.id),
    },
  ];
}
