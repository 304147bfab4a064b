// The three steps of the heat dose share one look; each rule is data of its own.

import type { Evaluation } from '../../rule/condition-timer.ts';
import { parameter } from '../../rule/parameter.ts';
import type { StationInput } from '../../rule/rule-input.ts';

export const DOSE_FORMULA = 'D / allowance ≥ limit, D = ∫ exp(E/R (1/Tref − 1/T)) dt while molten';

/** A top-up takes a little off; the step must not come back for that. */
const DEADBAND_SHARE = 0.02;

export const doseLimit = (share: number) => parameter('share', share, [0.05, 3], 'lab-decides-allowance');

export function evaluateDose({ dose }: StationInput, limit: number): Evaluation {
  if (dose === null) return 'unknown';
  if (dose.share < limit) return dose.share < limit - DEADBAND_SHARE ? 'gone' : 'between';
  return {
    evidence: { dose_share: dose.share, dose_hours: dose.hours, allowance_hours: dose.allowance },
    worst: dose.share,
  };
}
