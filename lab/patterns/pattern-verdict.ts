// The one verdict of a waiting pattern at one instant, which list, label, wall, alarm, phone, night sheet and paper all
// show: what stays wrong and what goes back with the temperature, apart; since when it is due; why, and what to do next.
// Pure. The order of the reasons is this project's; generic figures never lead to more than "check the fit".

import {
  dueInstants,
  type ErrorBand,
  type FittedPattern,
  heatSince,
  isCalibrated,
  permanentError,
  type RelaxationParameters,
  reversibleError,
} from '../../wax/relaxation/relaxation.ts';
import type { CourseHeat, ReducedCourse } from '../../wax/relaxation/reduced-course.ts';
import type { Celsius, EpochMillis, Micrometres, Millimetres } from '../../wax/units.ts';
import type { WaxClass } from '../../wax/classes/wax-properties.ts';
import { type Standing, weakestOf } from '../../wax/classes/wax-value.ts';
import type { Pattern } from '../pattern.ts';
import type { PatternCareValues } from '../pattern-care.ts';
import { type MeasuredHeat, patternCourse } from './pattern-course.ts';
import { type PatternLife, patternLife, standingDueAt, type Whereabouts } from './pattern-life.ts';

/** From best to worst. */
export const PATTERN_VERDICTS = ['may-be-invested', 'check', 'remake'] as const;
export type PatternVerdictCode = (typeof PATTERN_VERDICTS)[number];

/** Why; the first that holds counts. */
export const PATTERN_REASONS = [
  'measured-misfit',
  'calibrated-band-over-tolerance',
  'no-readings',
  'softened',
  'cold',
  'band-over-tolerance',
  'handled-outside',
  'gap',
  'too-warm',
  'away-from-fitting-temperature',
  'within-tolerance',
] as const;
export type PatternReason = (typeof PATTERN_REASONS)[number];

export const NEXT_STEPS = [
  'remake',
  'check-fit',
  'check-teeth',
  'bring-back',
  'wait-for-return',
  'invest-at-once',
  'keep-on-die',
  'invest',
  'process',
] as const;
export type NextStep = (typeof NEXT_STEPS)[number];

/** What a sentence is filled in with; the ending of a name is its unit. */
export type VerdictValues = Readonly<Record<string, number>>;

export interface PatternVerdict {
  /** The instant that it is about. */
  readonly at: EpochMillis;
  readonly verdict: PatternVerdictCode;
  readonly reason: PatternReason;
  readonly values: VerdictValues;
  readonly nextStep: NextStep;
  readonly whereabouts: Whereabouts;
  readonly tolerance: Micrometres;
  /** Released strain and the misfit that it had; null where no temperature is known. */
  readonly permanent: ErrorBand | null;
  /** From the fitting temperature to that of investing: counts in full. */
  readonly contraction: ErrorBand | null;
  /** From where it lies to the temperature of investing: goes back. */
  readonly reversible: ErrorBand | null;
  readonly celsius: number | null;
  readonly fittedCelsius: number;
  /** When the permanent error and the contraction meet the tolerance; null: never, or unknown. */
  readonly toleranceAt: EpochMillis | null;
  readonly toleranceIfSteadyAt: EpochMillis | null;
  /** Absent while its place has no full day of readings. */
  readonly toleranceByForecastAt?: EpochMillis | null;
  /** When its standing time is up; null: there is none. */
  readonly standingDueAt: EpochMillis | null;
  /** The earlier of both. */
  readonly dueAt: EpochMillis | null;
  readonly dueBy: 'tolerance' | 'standing' | null;
  readonly isOverdue: boolean;
  readonly standing: Standing;
  /** The lab has fitted how fast this wax relaxes. */
  readonly isCalibrated: boolean;
  readonly measuredGap: Micrometres | null;
}

export interface VerdictInput {
  readonly pattern: Pattern;
  readonly heat: MeasuredHeat;
  readonly wax: WaxClass;
  readonly params: RelaxationParameters;
  readonly care: PatternCareValues;
  readonly at: EpochMillis;
  /** Means at its place, oldest first, and how long each stands for. */
  readonly lastDay?: readonly { readonly at: number; readonly celsius: number }[];
  readonly lastDayWidthMillis?: number;
}

/** Without a reading for longer than this in all, since it was fitted, it is looked at. Common practice. */
const LONGEST_UNKNOWN_SECONDS = 1800;
/** Above its storage limit for so long in all; the delay of the alarm of the same cause. Common practice. */
const WARM_SECONDS = 600;
/** Colder or warmer than the room by so much it has a size of its own. Common practice. */
const APART_CELSIUS = 3;

const TEN_MINUTES_MILLIS = 600_000;

interface Facts {
  readonly input: VerdictInput;
  readonly life: PatternLife;
  readonly permanent: ErrorBand | null;
  readonly contraction: ErrorBand | null;
  readonly reversible: ErrorBand | null;
  readonly celsius: number | null;
  readonly heat: CourseHeat | null;
}

/** What counts against the tolerance: the permanent error and what the fitting temperature takes, as far as `end`. */
const errorThatCounts = ({ permanent, contraction }: Facts, end: 'likely' | 'low' | 'high'): number => {
  if (permanent === null || contraction === null) return 0;
  const sizes = [contraction.low, contraction.high].map(Math.abs);
  const size = { likely: Math.abs(contraction.likely), low: Math.min(...sizes), high: Math.max(...sizes) }[
    end
  ];
  return permanent[end] + size;
};

const HOLDS: Readonly<Record<PatternReason, (facts: Facts) => boolean>> = {
  'measured-misfit': ({ input, life }) =>
    (life.measuredGap?.micrometres ?? 0) > input.pattern.tolerance_micrometres,
  'calibrated-band-over-tolerance': (facts) =>
    isCalibrated(facts.input.params) &&
    errorThatCounts(facts, 'low') > facts.input.pattern.tolerance_micrometres,
  'no-readings': ({ permanent }) => permanent === null,
  softened: ({ heat, input }) => (heat?.peakCelsius ?? -Infinity) >= input.wax.melting.low.value,
  'band-over-tolerance': (facts) =>
    errorThatCounts(facts, 'high') >= facts.input.pattern.tolerance_micrometres,
  'handled-outside': ({ life }) => life.wasAway,
  gap: ({ heat }) => (heat?.gapSeconds ?? 0) > LONGEST_UNKNOWN_SECONDS,
  'too-warm': ({ heat }) => (heat?.secondsAbove ?? 0) >= WARM_SECONDS,
  cold: ({ life }) => life.whereabouts === 'chilled',
  'away-from-fitting-temperature': (facts) => {
    const { celsius, input, reversible } = facts;
    if (celsius === null || reversible === null) return false;
    const size = Math.max(Math.abs(reversible.low), Math.abs(reversible.high));
    return (
      Math.abs(celsius - input.care.roomCelsius.value) >= APART_CELSIUS &&
      errorThatCounts(facts, 'high') + size >= input.pattern.tolerance_micrometres
    );
  },
  'within-tolerance': () => true,
};

const verdictOf = (reason: PatternReason): PatternVerdictCode => {
  if (reason === 'measured-misfit' || reason === 'calibrated-band-over-tolerance') return 'remake';
  return reason === 'within-tolerance' ? 'may-be-invested' : 'check';
};

const valuesOf = (facts: Facts): VerdictValues => {
  const { input, life, heat, reversible, celsius } = facts;
  return {
    likely_micrometres: errorThatCounts(facts, 'likely'),
    low_micrometres: errorThatCounts(facts, 'low'),
    high_micrometres: errorThatCounts(facts, 'high'),
    tolerance_micrometres: input.pattern.tolerance_micrometres,
    ...(reversible !== null && { reversible_micrometres: reversible.likely }),
    ...(celsius !== null && { value_celsius: celsius }),
    room_celsius: input.care.roomCelsius.value,
    ...(life.measuredGap !== null && { gap_micrometres: life.measuredGap.micrometres }),
    ...(heat !== null && {
      peak_celsius: heat.peakCelsius,
      warm_minutes: heat.secondsAbove / 60,
      gap_minutes: heat.gapSeconds / 60,
    }),
    melting_celsius: input.wax.melting.low.value,
    limit_celsius: input.wax.storageMax.value,
  };
};

function nextStep(
  pattern: Pattern,
  life: PatternLife,
  reason: PatternReason,
  isStandingOver: boolean,
): NextStep {
  const isSetUp = pattern.kind === 'denture-set-up';
  if (life.whereabouts === 'away') return 'wait-for-return';
  if (verdictOf(reason) === 'remake') return 'remake';
  if (reason === 'cold' || reason === 'away-from-fitting-temperature') return 'bring-back';
  if (verdictOf(reason) === 'check') return isSetUp ? 'check-teeth' : 'check-fit';
  if (isSetUp) return 'process';
  if (life.whereabouts === 'on-die') return 'keep-on-die';
  return isStandingOver ? 'invest-at-once' : 'invest';
}

const fittedPattern = (pattern: Pattern, life: PatternLife): FittedPattern => ({
  technique: pattern.technique,
  length: pattern.length_millimetres as Millimetres,
  frozenAt: life.frozenAt,
  misfit: life.misfit as Micrometres,
  periods: life.periods,
});

function factsOf(input: VerdictInput, life: PatternLife, course: ReducedCourse | null): Facts {
  const { pattern, wax, params, care } = input;
  const room = care.roomCelsius.value as Celsius;
  const length = pattern.length_millimetres as Millimetres;
  const reversibleBetween = (from: number, to: number) =>
    reversibleError(wax, from as Celsius, to as Celsius, length);
  return {
    input,
    life,
    permanent: course === null ? null : permanentError(course, fittedPattern(pattern, life), params),
    contraction: course === null ? null : reversibleBetween(life.fittedCelsius ?? room, room),
    reversible: course === null ? null : reversibleBetween(room, course.celsius),
    celsius: course?.celsius ?? null,
    heat: course === null ? null : heatSince(course, life.fittedAt, wax.storageMax.value),
  };
}

/** A forecast is not known to the minute; the earlier ten minutes are on the safe side. */
const toTenMinutes = (at: EpochMillis | null): EpochMillis | null =>
  at === null ? null : ((at - (at % TEN_MINUTES_MILLIS)) as EpochMillis);

/** @throws RangeError for a length or a tolerance that is not above 0 and finite */
export function patternVerdict(input: VerdictInput): PatternVerdict {
  const { pattern, heat, params, care, at, lastDay = [], lastDayWidthMillis = 0 } = input;
  const tolerance = pattern.tolerance_micrometres as Micrometres;
  if (!(tolerance > 0 && tolerance < Infinity)) throw new RangeError(`tolerance: ${tolerance} µm`);
  const life = patternLife(pattern, at);
  const madeAt = Math.min(at, Date.parse(pattern.madeAt)) as EpochMillis;
  const course = patternCourse(madeAt, heat, life.stated, params, at);
  const facts = factsOf(input, life, course);
  const reason = PATTERN_REASONS.find((code) => HOLDS[code](facts)) ?? 'no-readings';
  const allowed = (tolerance - Math.abs(facts.contraction?.likely ?? 0)) as Micrometres;
  const tolerated =
    course === null
      ? { earliest: null, ifSteady: null }
      : dueInstants(course, fittedPattern(pattern, life), params, allowed, lastDay, lastDayWidthMillis);
  const toleranceAt = toTenMinutes(tolerated.earliest);
  const standingDue = standingDueAt(pattern, life, care.standingMinutes.value);
  const isByStanding = standingDue !== null && standingDue <= (toleranceAt ?? Infinity);
  const dueAt = isByStanding ? standingDue : toleranceAt;
  return {
    at,
    verdict: verdictOf(reason),
    reason,
    values: valuesOf(facts),
    nextStep: nextStep(pattern, life, reason, standingDue !== null && standingDue <= at),
    whereabouts: life.whereabouts,
    tolerance,
    permanent: facts.permanent,
    contraction: facts.contraction,
    reversible: facts.reversible,
    celsius: facts.celsius,
    fittedCelsius: life.fittedCelsius ?? care.roomCelsius.value,
    toleranceAt,
    toleranceIfSteadyAt: toTenMinutes(tolerated.ifSteady),
    ...(tolerated.byForecast !== undefined && { toleranceByForecastAt: toTenMinutes(tolerated.byForecast) }),
    standingDueAt: standingDue,
    dueAt,
    dueBy: dueAt === null ? null : isByStanding ? 'standing' : 'tolerance',
    isOverdue: dueAt !== null && dueAt <= at,
    standing: weakestOf(params.standing, input.wax.relaxation.frozenStrain[pattern.technique].standing),
    isCalibrated: isCalibrated(params),
    measuredGap: life.measuredGap === null ? null : (life.measuredGap.micrometres as Micrometres),
  };
}
