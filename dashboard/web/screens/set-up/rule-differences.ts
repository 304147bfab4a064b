// Which settings of rules differ from those as supplied, by kind of station: what holds at one of a kind and not at the
// others is seen side by side. Pure.

import type { LabView, RuleView } from '../../../api/lab-bodies.ts';

type Figure = RuleView['parameters'][string];
type OwnRules = NonNullable<LabView['site']['rules']>;

/** One station, or the whole lab, which has no station and needs no name here. */
export interface SettingPlace {
  readonly station: string | null;
  readonly name: string;
}

interface HeldValue {
  /** As it is stored; true and false of a rule that is on or off. */
  readonly value: number | boolean;
  readonly places: readonly SettingPlace[];
}

interface Difference {
  readonly name: string;
  /** Null for whether the rule is on. */
  readonly figure: Figure | null;
  /** What differs, the value of most places first. */
  readonly held: readonly HeldValue[];
  /** Where the setting is as supplied. */
  readonly asSupplied: readonly SettingPlace[];
}

interface RuleDifference {
  readonly rule: RuleView;
  readonly differences: readonly Difference[];
}

export interface KindDifferences {
  /** Of station; `lab` for what is set once. */
  readonly kind: string;
  readonly places: readonly SettingPlace[];
  readonly rules: readonly RuleDifference[];
}

interface SetPlace extends SettingPlace {
  readonly rules: OwnRules;
}

/** A rule is on unless it was switched off, which is stored under this name. */
const ENABLED = 'enabled';

const placeOf = ({ station, name }: SetPlace): SettingPlace => ({ station, name });

const differenceOf = (
  name: string,
  figure: Figure | null,
  supplied: number | boolean,
  rule: string,
  places: readonly SetPlace[],
): Difference => {
  const valueAt = ({ rules }: SetPlace): number | boolean => rules[rule]?.[name] ?? supplied;
  const values = [...new Set(places.map(valueAt))].filter((value) => value !== supplied);
  const at = (value: number | boolean): readonly SettingPlace[] =>
    places.filter((place) => valueAt(place) === value).map(placeOf);
  return {
    name,
    figure,
    held: values
      .map((value) => ({ value, places: at(value) }))
      .sort((first, second) => second.places.length - first.places.length),
    asSupplied: at(supplied),
  };
};

const ruleDifference = (rule: RuleView, kind: string, places: readonly SetPlace[]): RuleDifference => ({
  rule,
  differences: [
    differenceOf(ENABLED, null, true, rule.kind, places),
    ...Object.entries(rule.parameters)
      .filter(([, figure]) => figure.places.includes(kind))
      .map(([name, figure]) => differenceOf(name, figure, figure.default, rule.kind, places)),
  ].filter(({ held }) => held.length > 0),
});

/** Kinds in the order of the lab's stations, the whole lab last; kinds and rules without a difference are left out. */
export const ruleDifferences = (
  { site, stations }: Pick<LabView, 'site' | 'stations'>,
  rules: readonly RuleView[],
): readonly KindDifferences[] => {
  const kinds = [...new Set(stations.map(({ kind }) => kind))];
  const ofKind = (kind: string): readonly SetPlace[] =>
    stations
      .filter((station) => station.kind === kind)
      .map((station) => ({ station: station.id, name: station.name, rules: station.rules ?? {} }));
  const wholeLab: SetPlace = { station: null, name: '', rules: site.rules ?? {} };
  return [...kinds.map((kind) => [kind, ofKind(kind)] as const), ['lab', [wholeLab]] as const]
    .map(([kind, places]) => ({
      kind,
      places: places.map(placeOf),
      rules: rules
        .map((rule) => ruleDifference(rule, kind, places))
        .filter(({ differences }) => differences.length > 0),
    }))
    .filter(({ rules: differing }) => differing.length > 0);
};
