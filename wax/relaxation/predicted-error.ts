// Predicted error of a waiting pattern in micrometres over its length, in two parts that are never one: released strain,
// which stays, and the change of length with temperature, which goes back with it. Both are forecasts of a model and
// never a measurement; which way a pattern warps is not known, so the released part has no sign.

import { EXPANSION_SPREAD } from './fit-budget.ts';
import { isTemperature } from '../reading-guard.ts';
import { type ReducedCourse, reducedSecondsAt } from './reduced-course.ts';
import {
  cornersOf,
  likelyCorner,
  type ParameterCorner,
  type RelaxationParameters,
} from './relaxation-parameters.ts';
import { releasedShare } from './stretched-exponential.ts';
import type { Technique } from '../classes/technique.ts';
import type { WaxClass } from '../classes/wax-properties.ts';
import { thermalStrain } from './thermal-strain.ts';
import type { Celsius, EpochMillis, Micrometres, Millimetres } from '../units.ts';

/** A stretch of a pattern's life; held while it sat on its die. */
export interface HoldPeriod {
  readonly from: EpochMillis;
  readonly to: EpochMillis;
  readonly isHeld: boolean;
}

export interface FittedPattern {
  readonly technique: Technique;
  /** The length that matters for the fit. */
  readonly length: Millimetres;
  /** When its strain was last frozen in: formed, or its margins resealed. */
  readonly frozenAt: EpochMillis;
  /** How far it was off when its fit was last established; 0 where it was made to fit. */
  readonly misfit: Micrometres;
  /** From that instant on, without gaps, oldest first. */
  readonly periods: readonly HoldPeriod[];
}

export interface ErrorBand {
  /** With the parameters as they are, gaps bridged by straight lines. */
  readonly likely: Micrometres;
  /** Over the whole spread of the parameters, gaps left out. */
  readonly low: Micrometres;
  /** Over the whole spread of the parameters, gaps as warm as they may have been. */
  readonly high: Micrometres;
}

const MICROMETRES_PER_MILLIMETRE = 1000;

/**
 * How much of what it would release free a pattern may still release on its die, at most. That a die holds a pattern is
 * common practice; that margins shrink on it all the same is published without a figure (Zeltser, Lewinstein and
 * Grajower, J Prosthet Dent). The share is this project's.
 */
const RELEASED_ON_DIE_AT_MOST = 0.5;

/** @throws RangeError for a length that is not above 0 and finite */
const refuseLength = (length: Millimetres): void => {
  if (!(Number.isFinite(length) && length > 0)) throw new RangeError(`pattern: ${length} mm`);
};

type End = 'likely' | 'low' | 'high';

/** One stretch in reduced seconds: how old the frozen strain was at its beginning, and how long it lasted. */
interface ReducedPeriod {
  readonly age: number;
  readonly seconds: number;
  readonly weight: number;
}

/**
 * The rate of release falls with age, so the low end starts as old as it may have been and runs as short, and the high end
 * the other way round.
 */
const reducedPeriods = (
  course: ReducedCourse,
  { frozenAt, periods }: FittedPattern,
  end: End,
  until: number = course.at,
): readonly ReducedPeriod[] => {
  const zero = reducedSecondsAt(course, frozenAt);
  return periods
    .filter(({ from }) => from < until)
    .map(({ from, to, isHeld }) => {
      const [start, stop] = [reducedSecondsAt(course, from), reducedSecondsAt(course, Math.min(to, until))];
      const [age, seconds] = {
        likely: [start.likely - zero.likely, stop.likely - start.likely] as const,
        low: [start.most - zero.most, stop.least - start.least] as const,
        high: [start.least - zero.least, stop.most - start.most] as const,
      }[end];
      const weight = isHeld ? (end === 'high' ? RELEASED_ON_DIE_AT_MOST : 0) : 1;
      return { age: Math.max(0, age), seconds: Math.max(0, seconds), weight };
    });
};

/** Share of the frozen strain that was released by one set of parameters. */
const shareReleasedBy = (periods: readonly ReducedPeriod[], { tau, beta }: ParameterCorner): number =>
  periods.reduce(
    (sum, { age, seconds, weight }) =>
      sum + weight * (releasedShare((age + seconds) / tau, beta) - releasedShare(age / tau, beta)),
    0,
  );

const inMicrometres = (pattern: FittedPattern, corner: ParameterCorner, share: number): Micrometres =>
  (pattern.misfit + corner.frozenStrain * share * pattern.length * MICROMETRES_PER_MILLIMETRE) as Micrometres;

/** The likely permanent error at an instant of the course, µm; it never falls with time. */
export const likelyErrorAt = (
  course: ReducedCourse,
  pattern: FittedPattern,
  params: RelaxationParameters,
  at: number,
): Micrometres => {
  const corner = likelyCorner(params, pattern.technique);
  return inMicrometres(
    pattern,
    corner,
    shareReleasedBy(reducedPeriods(course, pattern, 'likely', at), corner),
  );
};

/**
 * The error that stays, at the end of the course: released strain over the length, and the misfit that it had.
 * @throws RangeError for a length that is not above 0 and finite
 */
export const permanentError = (
  course: ReducedCourse,
  pattern: FittedPattern,
  params: RelaxationParameters,
): ErrorBand => {
  refuseLength(pattern.length);
  const over = (end: 'low' | 'high') => {
    const periods = reducedPeriods(course, pattern, end);
    return cornersOf(params, pattern.technique, end).map((corner) =>
      inMicrometres(pattern, corner, shareReleasedBy(periods, corner)),
    );
  };
  return {
    likely: likelyErrorAt(course, pattern, params, course.at),
    low: Math.min(...over('low')) as Micrometres,
    high: Math.max(...over('high')) as Micrometres,
  };
};

/**
 * The change of length between two temperatures, µm; negative where it shrinks. It goes back with the temperature.
 * @throws RangeError for a length that is not above 0 and finite, or a temperature that is none
 * @example reversibleError(waxClass('inlay-type-2'), celsius(37), celsius(22), millimetres(8)).likely // -38.8
 */
export const reversibleError = (
  wax: WaxClass,
  from: Celsius,
  to: Celsius,
  length: Millimetres,
): ErrorBand => {
  refuseLength(length);
  if (!isTemperature(from) || !isTemperature(to)) throw new RangeError(`pattern: from ${from} to ${to} °C`);
  const likely = thermalStrain(wax, from, to) * length * MICROMETRES_PER_MILLIMETRE;
  const [low, high] = [likely * (1 - EXPANSION_SPREAD), likely * (1 + EXPANSION_SPREAD)];
  return {
    likely: likely as Micrometres,
    low: Math.min(low, high) as Micrometres,
    high: Math.max(low, high) as Micrometres,
  };
};
