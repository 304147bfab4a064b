// The figures of a rule that a lab may set: default, bounds, unit, and where the default comes from; what each means
// is in words/. A value out of bounds is not taken: the default holds and a problem reports it.

import type { OwnFigures } from '../../../lab/own-figures.ts';
import { type Problem, problem } from '../../../wax/result.ts';
import type { Source, Standing } from '../../../wax/wax-class.ts';

/** The unit is the end of the parameter's name too, so that a screen can convert without this table. */
export type ParameterUnit =
  | 'celsius'
  | 'celsius_difference'
  | 'celsius_per_hour'
  | 'seconds'
  | 'minutes'
  | 'hours'
  | 'days'
  | 'share'
  | 'count'
  | 'micrometres'
  | 'millimetres';

export interface Parameter {
  readonly default: number;
  readonly low: number;
  readonly high: number;
  readonly unit: ParameterUnit;
  readonly standing: Standing;
  readonly source: Source;
}

export type Parameters = Readonly<Record<string, Parameter>>;

/** The code of the source of a figure that no publication gives. */
const PRACTICE = 'monitoring-practice';

export const parameter = (
  unit: ParameterUnit,
  byDefault: number,
  [low, high]: readonly [number, number],
  sourceCode = PRACTICE,
  standing: Standing = 'common practice',
): Parameter => ({ unit, default: byDefault, low, high, source: { code: sourceCode }, standing });

/** How long the condition must hold, by the times of the samples, before it is raised. */
export const onDelay = (byDefault: number, sourceCode = PRACTICE, most = 86_400): Parameter =>
  parameter('seconds', byDefault, [0, most], sourceCode);

/** How long it must be gone before it is over. */
export const offDelay = (byDefault: number): Parameter => parameter('seconds', byDefault, [0, 86_400]);

export const deadband = (byDefault: number): Parameter =>
  parameter('celsius_difference', byDefault, [0, 20], 'iec-62682-deadband', 'from memory');

/** How many times the probe's expanded uncertainty the limit is drawn in or out. */
export const guardBand = (byDefault: number): Parameter =>
  parameter('share', byDefault, [0, 2], 'ilac-g8', 'from memory');

export interface ResolvedParameters {
  readonly values: Readonly<Record<string, number>>;
  readonly enabled: boolean;
  readonly problems: readonly Problem[];
}

type RuleHead = {
  readonly kind: string;
  readonly parameters: Parameters;
  readonly mayBeSwitchedOff: boolean;
};

/** The rule's figures at a station or in the whole lab: its own where they are valid, else the defaults. */
export function ruleParameters(
  rule: RuleHead,
  { rules }: { readonly rules?: OwnFigures },
): ResolvedParameters {
  const own = rules?.[rule.kind] ?? {};
  const problems: Problem[] = [];
  const values: Record<string, number> = {};
  for (const [name, { default: byDefault }] of Object.entries(rule.parameters)) values[name] = byDefault;
  let enabled = true;
  for (const [name, value] of Object.entries(own)) {
    if (name === 'enabled') {
      if (value === false && rule.mayBeSwitchedOff) enabled = false;
      else if (value !== true) problems.push(problem('rule-always-on', {}, value, name));
      continue;
    }
    const bounds = rule.parameters[name];
    if (bounds === undefined) problems.push(unknownParameter(name, rule.parameters));
    else if (typeof value !== 'number' || !(value >= bounds.low && value <= bounds.high))
      problems.push(outOfBounds(name, value, bounds));
    else values[name] = value;
  }
  return { values, enabled, problems };
}

const unknownParameter = (name: string, parameters: Parameters): Problem =>
  problem(
    'rule-parameter-unknown',
    { name, names: [...Object.keys(parameters), 'enabled'].join(', ') },
    name,
    name,
  );

const outOfBounds = (name: string, value: unknown, { low, high }: Parameter): Problem =>
  problem('rule-parameter-refused', { name, least: String(low), most: String(high) }, value, name);
