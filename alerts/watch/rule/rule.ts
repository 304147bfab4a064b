// The shape of a rule: frozen data that a catalogue can print, and one pure function over what was measured. Timing is the
// condition timer's, the alarm's life is alerts/watch/life's. A rule never sees a clock, a file or another rule's state.

import type { Station } from '../../../lab/station.ts';
import type { StationKind } from '../../../lab/station-kinds.ts';
import type { Evaluation } from './condition-timer.ts';
import type { SubjectKind } from './finding.ts';
import type { Parameters } from './parameter.ts';
import type { Priority } from './priority.ts';
import type { ProbeBounds } from './probe-bounds.ts';
import type { QuietBounds } from './quiet-bounds.ts';
import type { GatewayInput, PatternInput, ProbeInput, SelfInput, StationInput } from './rule-input.ts';
import type { StationLimits } from '../../../lab/limits.ts';

export interface RuleData<Kind extends string = string> {
  /** Its name; the table in `rules/all-rules.ts` makes `RuleKind` of them. */
  readonly kind: Kind;
  readonly subjectKind: SubjectKind;
  readonly priority: Priority;
  /** What was seen must be seen by a person and reset, though it is over. */
  readonly latches: boolean;
  readonly mayBeSwitchedOff: boolean;
  readonly formula: string;
  readonly parameters: Parameters;
  /** Readings in a row in which it must hold before it begins; absent: one. */
  readonly fewestSamples?: number;
  /** A holding condition is reported anew when its `worst` grew by this. */
  readonly updateStep?: number;
  /** Acknowledged and still so after this long, it is raised again. Common practice. */
  readonly reAlarmMinutes?: number;
  /** Figures that count at some kinds of station only; the others count wherever the rule does. */
  readonly figuresOnlyAt?: Readonly<Record<string, ((kind: StationKind) => boolean) | undefined>>;
  /** First cause first: while one of these is up at the same place, this one is hidden behind it. */
  readonly hiddenBehind?: readonly Kind[];
  /** It also goes by other stations of the lab, or hides behind what they show: a replay of it needs all of them. */
  readonly looksAround?: true;
}

type Values<P extends Parameters> = { readonly [Name in keyof P]: number };
type AnyValues = Readonly<Record<string, number>>;

// Methods, not function properties: the parameter names of each rule are checked where it is written
// (`stationRule` and its like) and erased here, so that rules of all kinds are in one table.
interface Evaluates<Input> {
  /** `isOn`: the condition has begun, for rules that need other evidence to end than to begin. */
  evaluate(input: Input, values: AnyValues, isOn: boolean): Evaluation;
  /** Design logic that hides the alarm while it is so; a key of the message catalogues. */
  suppressedBy?(input: Input, values: AnyValues): string | null;
}

/** Which of the readings went farthest. */
export type Extreme = 'highest' | 'lowest';

export interface StationRule<Kind extends string = string> extends RuleData<Kind>, Evaluates<StationInput> {
  readonly scope: 'station';
  /** What is worth knowing of its readings once it is over; empty where how far they went says nothing of it. */
  readonly extremes: readonly Extreme[];
  appliesTo(station: Station, limits: StationLimits): boolean;
  /**
   * Asked when it does not hold: true when it cannot begin to hold within the bounds that it drew; absent: never.
   * False is always right, and costs an evaluation at each reading.
   */
  staysQuiet?(input: StationInput, values: AnyValues, bounds: QuietBounds): boolean;
}
export interface ProbeRule<Kind extends string = string> extends RuleData<Kind>, Evaluates<ProbeInput> {
  readonly scope: 'probe';
  /** `passing-time` rules are evaluated on ticks, the others on readings. */
  readonly on: 'reading' | 'passing-time';
  /** Of one that does not hold: before this instant it cannot begin to, whatever arrives; absent: not known. */
  quietUntil?(input: ProbeInput, values: AnyValues): number;
  /** As of a station's rule, for those on readings. */
  staysQuiet?(input: ProbeInput, values: AnyValues, bounds: ProbeBounds): boolean;
  /** Absent: to the probes of every station. */
  appliesTo?(station: Station): boolean;
}
export interface GatewayRule<Kind extends string = string> extends RuleData<Kind>, Evaluates<GatewayInput> {
  readonly scope: 'gateway';
}
export interface PatternRule<Kind extends string = string> extends RuleData<Kind>, Evaluates<PatternInput> {
  readonly scope: 'pattern';
}
export interface SelfRule<Kind extends string = string> extends RuleData<Kind>, Evaluates<SelfInput> {
  readonly scope: 'self';
  /** The part of the running process that it is about. */
  readonly part: SelfInput['part'];
}
export type Rule<Kind extends string = string> =
  | StationRule<Kind>
  | ProbeRule<Kind>
  | GatewayRule<Kind>
  | PatternRule<Kind>
  | SelfRule<Kind>;

/** What the table of rules is checked by: the rule's own name and the names of those that hide it. */
interface Names<Kind extends string, Causes extends string> {
  readonly kind: Kind;
  readonly hiddenBehind?: readonly Causes[];
}

type Written<R extends Rule, Input, P extends Parameters> = Omit<
  R,
  | 'scope'
  | 'subjectKind'
  | 'parameters'
  | 'figuresOnlyAt'
  | 'evaluate'
  | 'suppressedBy'
  | 'staysQuiet'
  | 'quietUntil'
  | 'mayBeSwitchedOff'
  | 'latches'
> & {
  readonly parameters: P;
  readonly figuresOnlyAt?: { readonly [Name in keyof P]?: (kind: StationKind) => boolean };
  readonly evaluate: (input: Input, values: Values<P>, isOn: boolean) => Evaluation;
  readonly suppressedBy?: (input: Input, values: Values<P>) => string | null;
  readonly mayBeSwitchedOff?: boolean;
  readonly latches?: boolean;
};

const usual = { latches: false, mayBeSwitchedOff: true };

interface StaysQuiet<P extends Parameters> {
  readonly staysQuiet?: (input: StationInput, values: Values<P>, bounds: QuietBounds) => boolean;
}

export const stationRule = <const K extends string, P extends Parameters, const C extends string = never>(
  rule: Written<StationRule, StationInput, P> & StaysQuiet<P> & Names<K, C>,
): StationRule & Names<K, C> =>
  Object.freeze({ ...usual, subjectKind: 'station' as const, ...rule, scope: 'station' as const });
interface QuietUntil<P extends Parameters> {
  readonly quietUntil?: (input: ProbeInput, values: Values<P>) => number;
  readonly staysQuiet?: (input: ProbeInput, values: Values<P>, bounds: ProbeBounds) => boolean;
}

export const probeRule = <const K extends string, P extends Parameters, const C extends string = never>(
  rule: Written<ProbeRule, ProbeInput, P> & QuietUntil<P> & Names<K, C>,
): ProbeRule & Names<K, C> =>
  Object.freeze({ ...usual, subjectKind: 'probe' as const, ...rule, scope: 'probe' as const });
export const gatewayRule = <const K extends string, P extends Parameters, const C extends string = never>(
  rule: Written<GatewayRule, GatewayInput, P> & Names<K, C>,
): GatewayRule & Names<K, C> =>
  Object.freeze({ ...usual, subjectKind: 'gateway' as const, ...rule, scope: 'gateway' as const });
export const patternRule = <const K extends string, P extends Parameters, const C extends string = never>(
  rule: Written<PatternRule, PatternInput, P> & Names<K, C>,
): PatternRule & Names<K, C> =>
  Object.freeze({ ...usual, subjectKind: 'pattern' as const, ...rule, scope: 'pattern' as const });
export const selfRule = <const K extends string, P extends Parameters, const C extends string = never>(
  rule: Written<SelfRule, SelfInput, P> & Names<K, C>,
): SelfRule & Names<K, C> =>
  Object.freeze({ ...usual, subjectKind: 'site' as const, ...rule, scope: 'self' as const });

/** Recorded in findings and reports; nobody need do anything. */
export const isNotice = (rule: Pick<RuleData, 'priority'>): boolean => rule.priority === 'notice';
