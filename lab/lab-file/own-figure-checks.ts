// Whether the figures of rules that a lab sets are known, within their bounds, and can have an effect where they are
// set: what changes nothing is refused, so that no setting is without effect.

import { ownEntry } from '../../wax/own-entry.ts';
import { type Contradiction, findNearestName, type Path } from './lab-file-problem.ts';
import type { FigurePlace, OwnFigures } from '../own-figures.ts';

/** Each rule by its name, as far as the check needs it. */
export type KnownRules = Readonly<
  Record<
    string,
    {
      readonly parameters: Readonly<
        Record<string, { readonly default: number; readonly low: number; readonly high: number }>
      >;
      readonly mayBeSwitchedOff: boolean;
    }
  >
>;

/** Every rule, and those that can have an effect at a place, with the figures that can have one there. */
export interface RulesByPlace {
  readonly all: KnownRules;
  readonly at: (place: FigurePlace) => KnownRules;
}

type FigureProblem = Omit<Contradiction, 'path'>;

/** `path`: where the figures are in the lab. */
export const ownFigureProblems = (
  own: OwnFigures | undefined,
  rules: RulesByPlace,
  place: FigurePlace,
  path: Path,
): readonly Contradiction[] =>
  Object.entries(own ?? {}).flatMap(([name, values]): readonly Contradiction[] => {
    const rule = ownEntry(rules.at(place), name);
    if (rule === undefined) return [{ path: [...path, name], ...missingRule(name, rules, place) }];
    return Object.entries(values).flatMap(([key, value]) => {
      const problem =
        key === 'enabled'
          ? switchProblem(rule, value)
          : figureProblem(rule, ownEntry(rules.all, name), key, value, place);
      return problem === null ? [] : [{ path: [...path, name, key], ...problem }];
    });
  });

function missingRule(name: string, { all }: RulesByPlace, place: FigurePlace): FigureProblem {
  if (ownEntry(all, name) !== undefined) return { code: 'rule-without-effect', values: { name, place } };
  const names = Object.keys(all);
  return {
    code: 'rule-not-known',
    values: { name, near: findNearestName(name, names), names: names.join(', ') },
  };
}

type Rule = KnownRules[string];

function switchProblem({ mayBeSwitchedOff }: Rule, value: number | boolean): FigureProblem | null {
  if (value === true) return null;
  if (value !== false) return { code: 'field-wrong-type', values: { type: 'boolean' } };
  return mayBeSwitchedOff ? null : { code: 'rule-always-on' };
}

function figureProblem(
  { parameters }: Rule,
  everywhere: Rule | undefined,
  name: string,
  value: number | boolean,
  place: FigurePlace,
): FigureProblem | null {
  const bounds = ownEntry(parameters, name);
  if (bounds === undefined) {
    if (everywhere !== undefined && ownEntry(everywhere.parameters, name) !== undefined)
      return { code: 'rule-figure-without-effect', values: { name, place } };
    const names = [...Object.keys(parameters), 'enabled'];
    return { code: 'rule-parameter-unknown', values: { name, names: names.join(', ') } };
  }
  const { low, high } = bounds;
  return typeof value === 'number' && value >= low && value <= high
    ? null
    : { code: 'rule-parameter-refused', values: { name, least: String(low), most: String(high) } };
}
