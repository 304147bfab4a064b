// Predicted error of a stored pattern in micrometres over its length: frozen-in strain that has been released,
// and the change of length with temperature since it was fitted. Both are added as if they opened the fit the
// same way, because which way a pattern warps is not known. It is a forecast of a model, never a measurement.

import { isTemperature, isWithin } from './reading-guard.ts';
import { type RelaxationState, likelyReducedSeconds } from './reduced-time.ts';
import {
  isCalibrated,
  likelyCorner,
  outerCorners,
  type ParameterCorner,
  type RelaxationParameters,
} from './relaxation-parameters.ts';
import { releasedShare } from './stretched-exponential.ts';
import type { Technique } from './classes/technique.ts';
import { thermalStrain } from './thermal-strain.ts';
import type { Celsius, Micrometres, Millimetres, Seconds } from './units.ts';
import type { WaxClass } from './classes/wax-properties.ts';
import { type Standing, weakestOf } from './classes/wax-value.ts';

export interface PatternFacts {
  readonly technique: Technique;
  /** The length that matters for the fit. */
  readonly length: Millimetres;
  /** Temperature at which it was last fitted on the die. */
  readonly fittedCelsius: Celsius;
  /** Temperature at which it will be invested; absent: as it lies. */
  readonly investedCelsius?: Celsius;
}

export interface PredictedError {
  /** With the parameters as they are, gaps bridged by straight lines. */
  readonly micrometres: Micrometres;
  /** Over the whole spread of the parameters, gaps left out. */
  readonly low: Micrometres;
  /** Over the whole spread of the parameters, gaps at the warmer of their ends. */
  readonly high: Micrometres;
  /** Part of `micrometres` that stays. */
  readonly released: Micrometres;
  /** Part of `micrometres` that goes back with the temperature. */
  readonly thermal: Micrometres;
  readonly gapSeconds: Seconds;
  /** The weakest of what the micrometres rest on: the course in time and the strain frozen in. */
  readonly standing: Standing;
  /** The lab has fitted how fast this wax relaxes; else every screen says "generic, uncalibrated". */
  readonly isCalibrated: boolean;
}

const MICROMETRES_PER_MILLIMETRE = 1000;

/** @throws RangeError for facts that would make a silent number of a forecast. */
export const refuseImpossible = ({
  length,
  fittedCelsius,
  investedCelsius = fittedCelsius,
}: PatternFacts) => {
  if (!(isWithin(length, Number.MIN_VALUE) && isTemperature(fittedCelsius) && isTemperature(investedCelsius)))
    throw new RangeError(
      `pattern: ${length} mm, fitted at ${fittedCelsius}, invested at ${investedCelsius} °C`,
    );
};

/** Released strain of one set of parameters times the length, µm. */
export const releasedMicrometres = (
  corner: ParameterCorner,
  reducedSeconds: number,
  length: Millimetres,
): number =>
  corner.frozenStrain *
  releasedShare(reducedSeconds / corner.tau, corner.beta) *
  length *
  MICROMETRES_PER_MILLIMETRE;

/** Change of length with temperature since it was fitted, µm, without sign. */
export const thermalMicrometres = (pattern: PatternFacts, wax: WaxClass, lying: Celsius): number =>
  Math.abs(thermalStrain(wax, pattern.fittedCelsius, pattern.investedCelsius ?? lying)) *
  pattern.length *
  MICROMETRES_PER_MILLIMETRE;

/**
 * Before the first reading it lies as it was made.
 * @throws RangeError for a length that is not above 0 and finite, or a temperature that is none.
 */
export const predictedError = (
  state: RelaxationState,
  pattern: PatternFacts,
  wax: WaxClass,
  params: RelaxationParameters,
): PredictedError => {
  refuseImpossible(pattern);
  const lying = state.readings > 0 ? state.celsius : pattern.fittedCelsius;
  const thermal = thermalMicrometres(pattern, wax, lying);
  const at = (corners: readonly ParameterCorner[], reducedSeconds: number) =>
    corners.map((corner) => releasedMicrometres(corner, reducedSeconds, pattern.length));
  const released = releasedMicrometres(
    likelyCorner(params, pattern.technique),
    likelyReducedSeconds(state),
    pattern.length,
  );
  const least = at(outerCorners(params, pattern.technique, -1), state.reducedSeconds);
  const most = at(outerCorners(params, pattern.technique, 1), state.reducedSeconds + state.gapReducedMost);
  return {
    micrometres: (released + thermal) as Micrometres,
    low: (Math.min(...least) + thermal) as Micrometres,
    high: (Math.max(...most) + thermal) as Micrometres,
    released: released as Micrometres,
    thermal: thermal as Micrometres,
    gapSeconds: state.gapSeconds,
    standing: weakestOf(params.standing, wax.relaxation.frozenStrain[pattern.technique].standing),
    isCalibrated: isCalibrated(params),
  };
};
