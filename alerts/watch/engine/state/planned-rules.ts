// Which rules hold at a place, with which figures. Stations without figures of their own share what is worked out, so that
// thousands of them cost no copies.

import type { StationLimits } from '../../../../lab/limits.ts';
import type { Site } from '../../../../lab/lab.ts';
import type { Station } from '../../../../lab/station.ts';
import type { Problem } from '../../../../wax/result.ts';
import type { ConditionTimes } from '../../rule/condition-timer.ts';
import { ruleParameters } from '../../rule/parameter.ts';
import type { ProbeRule, Rule, StationRule } from '../../rule/rule.ts';
import { ALL_RULES, type KnownRule, type RuleKind } from '../../rules/all-rules.ts';

export interface PlannedRule<R extends KnownRule = KnownRule> {
  readonly rule: R;
  readonly values: Readonly<Record<string, number>>;
  readonly times: ConditionTimes;
}

/** Of one station and its probes. */
export interface StationRules {
  readonly rules: readonly PlannedRule<StationRule<RuleKind>>[];
  readonly probeRules: readonly PlannedRule<ProbeRule<RuleKind>>[];
  readonly silenceRules: readonly PlannedRule<ProbeRule<RuleKind>>[];
  readonly byKind: ReadonlyMap<RuleKind, PlannedRule>;
  /** Rules of the station itself that are on. */
  readonly kinds: ReadonlySet<string>;
}

type OfScope<S extends Rule['scope']> = Extract<KnownRule, { scope: S }>;

const ofScope = <S extends Rule['scope']>(scope: S): readonly OfScope<S>[] =>
  ALL_RULES.filter((rule): rule is OfScope<S> => rule.scope === scope);

const STATION_RULES = ofScope('station');
const PROBE_RULES = ofScope('probe');

/** Those of the whole lab that are on; settings that are refused are added to `problems`. */
export const siteRules = <S extends 'gateway' | 'pattern' | 'self'>(
  scope: S,
  site: Site,
  problems: Problem[],
): readonly PlannedRule<OfScope<S>>[] => planRules(ofScope(scope), site, problems);

/** The same for the stations of a lab. */
export const stationRules = (
  problems: Problem[],
): ((station: Station, limits: StationLimits) => StationRules) => {
  const shared = new Map<string, StationRules>();
  return (station, limits) => {
    const rules = STATION_RULES.filter((rule) => rule.appliesTo(station, limits));
    const probeRules = PROBE_RULES.filter((rule) => rule.appliesTo?.(station) ?? true);
    const key = station.rules === undefined ? [...rules, ...probeRules].map(({ kind }) => kind).join() : '';
    const before = shared.get(key);
    if (before !== undefined) return before;
    // Of all rules: what is refused is reported of those too that do not apply here.
    const worked = workOut(
      planRules(STATION_RULES, station, problems).filter(({ rule }) => rules.includes(rule)),
      planRules(PROBE_RULES, station, problems).filter(({ rule }) => probeRules.includes(rule)),
    );
    if (key !== '') shared.set(key, worked);
    return worked;
  };
};

const workOut = (
  rules: StationRules['rules'],
  probeRules: readonly PlannedRule<ProbeRule<RuleKind>>[],
): StationRules => ({
  rules,
  probeRules: probeRules.filter(({ rule }) => rule.on === 'reading'),
  silenceRules: probeRules.filter(({ rule }) => rule.on === 'passing-time'),
  kinds: new Set(rules.map(({ rule }) => rule.kind)),
  byKind: new Map([...rules, ...probeRules].map((each) => [each.rule.kind, each])),
});

const planRules = <R extends KnownRule>(
  rules: readonly R[],
  place: Station | Site,
  problems: Problem[],
): readonly PlannedRule<R>[] =>
  rules.flatMap((rule) => {
    const { enabled, problems: refused, values } = ruleParameters(rule, place);
    problems.push(...refused);
    return enabled ? [{ rule, values, times: conditionTimes(rule, values) }] : [];
  });

const conditionTimes = (rule: Rule, values: Readonly<Record<string, number>>): ConditionTimes => ({
  onDelayMillis: (values.on_delay_seconds ?? 0) * 1000,
  offDelayMillis: (values.off_delay_seconds ?? 0) * 1000,
  updateStep: rule.updateStep ?? Number.POSITIVE_INFINITY,
  fewestSamples: rule.fewestSamples ?? 1,
});
