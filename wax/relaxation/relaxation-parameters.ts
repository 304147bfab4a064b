// What the relaxation of a stored pattern depends on, taken from a wax class. As long as the lab has not fitted
// its own bent-stick test these are "generic, uncalibrated", and everything computed from them is marked so.

import type { Technique } from '../classes/technique.ts';
import { arrheniusRate, type ThermalRate } from '../heat/thermal-rate.ts';
import type { Celsius, JoulesPerMole, Seconds, Strain } from '../units.ts';
import type { WaxClass } from '../classes/wax-properties.ts';
import { type Standing, weakestStanding } from '../classes/wax-value.ts';

export interface RelaxationParameters {
  /** 1 / aT. */
  readonly rate: ThermalRate;
  /** At the reference temperature of `rate`. */
  readonly tau: Seconds;
  readonly beta: number;
  readonly frozenStrain: Readonly<Record<Technique, Strain>>;
  /** How far the true parameters may lie from these. */
  readonly spread: {
    /** `tau` divided and multiplied by this, 1 and up. */
    readonly tauFactor: number;
    readonly beta: number;
    /** Share of the frozen-in strain, 0 to 1. */
    readonly frozenStrainShare: number;
  };
  /** A longer time between two readings is a gap: bridged by a straight line, and the band is widened. */
  readonly longestGap: Seconds;
  readonly standing: Standing;
}

const DEFAULT_LONGEST_GAP = 900 as Seconds;

/**
 * The parameters of the class with an Arrhenius shift.
 * Their standing is `lab's own` only when the lab has set tau, beta and activation energy all three.
 */
export const relaxationParameters = (
  { relaxation }: WaxClass,
  longestGap: Seconds = DEFAULT_LONGEST_GAP,
): RelaxationParameters => ({
  rate: arrheniusRate(
    relaxation.activationEnergy.value as JoulesPerMole,
    relaxation.reference.value as Celsius,
  ),
  tau: relaxation.tau.value as Seconds,
  beta: relaxation.beta.value,
  frozenStrain: {
    layered: relaxation.frozenStrain.layered.value as Strain,
    dipped: relaxation.frozenStrain.dipped.value as Strain,
    pressed: relaxation.frozenStrain.pressed.value as Strain,
    sheet: relaxation.frozenStrain.sheet.value as Strain,
  },
  spread: {
    tauFactor: relaxation.spread.tauFactor.value,
    beta: relaxation.spread.beta.value,
    frozenStrainShare: relaxation.spread.frozenStrainShare.value,
  },
  longestGap,
  standing: weakestStanding(relaxation.tau, relaxation.beta, relaxation.activationEnergy),
});

/** Whether the lab has fitted these; otherwise every screen shows "generic, uncalibrated". */
export const isCalibrated = (params: RelaxationParameters): boolean => params.standing === "lab's own";

/** One set of parameters within the spread. */
export interface ParameterCorner {
  readonly tau: number;
  readonly beta: number;
  readonly frozenStrain: number;
}

export const likelyCorner = (params: RelaxationParameters, technique: Technique): ParameterCorner => ({
  tau: params.tau,
  beta: params.beta,
  frozenStrain: params.frozenStrain[technique],
});

const STEPS = [-1, -0.5, 0, 0.5, 1];

/**
 * Sets of parameters over the whole spread. What is released between two instants of a life rises and falls again with
 * tau, so the extremes may lie inside of the spread and it is tried in steps.
 */
export const cornersOf = (
  params: RelaxationParameters,
  technique: Technique,
  end: 'low' | 'high',
): readonly ParameterCorner[] => {
  const { tauFactor, beta, frozenStrainShare } = params.spread;
  const frozenStrain = params.frozenStrain[technique] * (1 + (end === 'high' ? 1 : -1) * frozenStrainShare);
  return STEPS.flatMap((step) =>
    STEPS.map((betaStep) => ({
      tau: params.tau * tauFactor ** step,
      beta: Math.min(1, Math.max(0.05, params.beta + betaStep * beta)),
      frozenStrain,
    })),
  );
};
