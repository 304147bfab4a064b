// What the relaxation of a stored pattern depends on, taken from a wax class. As long as the lab has not fitted
// its own bent-stick test these are "generic, uncalibrated", and everything computed from them says so.

import type { Technique } from './classes/technique.ts';
import { arrheniusRate, type ThermalRate } from './thermal-rate.ts';
import type { Celsius, JoulesPerMole, Seconds, Strain } from './units.ts';
import type { WaxClass } from './classes/wax-properties.ts';
import { type Standing, weakestStanding } from './classes/wax-value.ts';

export interface RelaxationParameters {
  /** 1 / aT: by Arrhenius or by WLF. */
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
 * The parameters of the class with an Arrhenius shift. For a WLF shift replace `rate` by `wlfRate(...)`.
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

/** Whether the lab has fitted these; otherwise every screen says "generic, uncalibrated". */
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

/**
 * The ends of the spread in the direction that recovers most (+1) or least (-1), for both ends of beta. The
 * recovered strain is monotone in each parameter, so the true extremes over the whole spread are among these.
 */
export const outerCorners = (
  params: RelaxationParameters,
  technique: Technique,
  direction: 1 | -1,
): readonly ParameterCorner[] => {
  const { tauFactor, beta, frozenStrainShare } = params.spread;
  const tau = params.tau * tauFactor ** -direction;
  const frozenStrain = params.frozenStrain[technique] * (1 + direction * frozenStrainShare);
  return [Math.max(0.05, params.beta - beta), Math.min(1, params.beta + beta)].map((end) => ({
    tau,
    beta: end,
    frozenStrain,
  }));
};
