// A fitted bent-stick test as it is answered: values in the units of a bench, and the curve of each stick.

import type { FittedValue } from '../../../wax/relaxation/calibration-verdict.ts';
import {
  calibrationCurve,
  type RelaxationCalibration,
} from '../../../wax/relaxation/relaxation-calibration.ts';
import type { Celsius } from '../../../wax/units.ts';
import type { BentStickBody, BentStickView, Fitted } from '../../api/bent-stick.ts';

const CURVE_POINTS = 60;
/** The curve goes on a little beyond the last reading, so that its band is seen to widen. */
const BEYOND = 1.25;

const per = ({ value, standardError, low, high }: FittedValue, unit: number): Fitted => ({
  value: value / unit,
  standardError: standardError / unit,
  low: low / unit,
  high: high / unit,
});

/** Denser where the curve is steep. */
const hoursUpTo = (last: number): readonly number[] =>
  Array.from({ length: CURVE_POINTS + 1 }, (_, i) => last * BEYOND * (i / CURVE_POINTS) ** 2).slice(1);

export const bentStickView = (
  calibration: RelaxationCalibration,
  { sticks }: Pick<BentStickBody, 'sticks'>,
  applied: boolean,
): BentStickView => {
  const { verdict } = calibration;
  const last = Math.max(...sticks.flatMap(({ openings }) => openings.map(({ hours }) => hours)));
  return {
    verdict: verdict.kind,
    doubts: verdict.kind === 'fixed' ? [] : [...verdict.doubts],
    applied,
    referenceCelsius: calibration.reference,
    finalOpeningMillimetres: per(calibration.amplitude, 1),
    tauHours: per(calibration.tau, 3600),
    beta: per(calibration.beta, 1),
    activationEnergyKilojoules: per(calibration.activationEnergy, 1000),
    scatterMillimetres: calibration.scatter,
    degreesOfFreedom: calibration.degreesOfFreedom,
    residuals: calibration.residuals.map((residual) => ({ ...residual })),
    curves: sticks.map(({ celsius }, index) => ({
      stick: index + 1,
      celsius,
      points: calibrationCurve(calibration, celsius as Celsius, hoursUpTo(last)).map((point) => ({
        ...point,
      })),
    })),
  };
};
