// The three steps of the heat dose share one look; each rule is data of its own.

import { arrheniusRate } from '../../../../wax/heat/thermal-rate.ts';
import type { Celsius, JoulesPerMole } from '../../../../wax/units.ts';
import type { Evaluation } from '../../rule/condition-timer.ts';
import { parameter } from '../../rule/parameter.ts';
import type { QuietBounds } from '../../rule/quiet-bounds.ts';
import type { StationInput } from '../../rule/rule-input.ts';

/** No dose is known better than its probe's uncertainty and its own figures let it be; more than a tenth is not given away. */
const MOST_UNCERTAIN_SHARE = 0.1;

/** Share by which the dose may be larger than it was counted, by the expanded uncertainty of the probe at the reference. */
export function doseUncertainty({ uncertainty, wax }: StationInput): number {
  if (wax === null) return 0;
  const { reference, slope, zero } = arrheniusRate(
    wax.kinetics.activationEnergy.value as JoulesPerMole,
    wax.kinetics.reference.value as Celsius,
  );
  return Math.min(MOST_UNCERTAIN_SHARE, (uncertainty * slope) / (reference - zero) ** 2);
}

export const DOSE_FORMULA = 'D / allowance ≥ limit, D = ∫ exp(E/R (1/Tref − 1/T)) dt while molten';

/** A top-up takes a little off; the step must not come back for that. */
const DEADBAND_SHARE = 0.02;

export const doseLimit = (share: number) => parameter('share', share, [0.05, 3], 'lab-decides-allowance');

/** A product and a quotient of the same figures may differ in their last digit. */
const ROUNDING_SHARE = 1e-9;

export const doseStaysBelow = ({ dose }: StationInput, limit: number, bounds: QuietBounds): boolean =>
  dose === null || bounds.doseBelow(limit * dose.allowance * (1 - ROUNDING_SHARE));

export function evaluateDose({ dose }: StationInput, limit: number): Evaluation {
  if (dose === null) return 'unknown';
  if (dose.share < limit) return dose.share < limit - DEADBAND_SHARE ? 'gone' : 'between';
  return {
    evidence: { dose_share: dose.share, dose_hours: dose.hours, allowance_hours: dose.allowance },
    worst: dose.share,
  };
}
