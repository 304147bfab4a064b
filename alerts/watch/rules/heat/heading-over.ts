// Above its working window, still rising, and the fitted curve meets the ceiling soon: minutes to act in.

import { isThermostatic } from '../../../../lab/station-kinds.ts';
import { guardBand, offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
import { climbLimit } from './runaway.ts';

/** Kelvins above the usual top below which a cycle is no climb. */
const LEAST_MARGIN = 0.7;

export const headingOver = stationRule({
  kind: 'heading-over',
  priority: 'high',
  formula:
    'T > window high + r·U and past what is usual, dT/dt > 0, and t(ceiling) of the first-order curve ≤ horizon',
  parameters: {
    horizon_minutes: parameter('raised when the ceiling is nearer than this', 'minutes', 15, [2, 120]),
    guard_share: guardBand(1),
    on_delay_seconds: onDelay(20, 'forecast-of-several-readings'),
    off_delay_seconds: offDelay(120),
  },
  hiddenBehind: ['fire-risk', 'over-ceiling'],
  appliesTo: (station, limits) =>
    isThermostatic(station.kind) && limits.ceiling !== null && limits.windowHigh !== null,
  evaluate: (input, p) => {
    const { limits, celsius, uncertainty, celsiusPerHour, minutesToCeiling } = input;
    const { ceiling, windowHigh } = limits;
    if (ceiling === null || windowHigh === null) return 'unknown';
    if (celsius >= ceiling.value) return 'gone';
    if (celsius <= windowHigh.value + p.guard_share * uncertainty) return 'gone';
    const usualLimit = climbLimit(input, LEAST_MARGIN);
    if (usualLimit !== null && celsius <= usualLimit) return 'gone';
    if (minutesToCeiling === null || celsiusPerHour === null || celsiusPerHour <= 0) return 'gone';
    if (minutesToCeiling > p.horizon_minutes)
      return minutesToCeiling > 1.5 * p.horizon_minutes ? 'gone' : 'between';
    return {
      evidence: {
        value_celsius: celsius,
        ceiling_celsius: ceiling.value,
        left_minutes: minutesToCeiling,
        rate_celsius_per_hour: celsiusPerHour,
      },
      worst: -minutesToCeiling,
    };
  },
  updateStep: 2,
});
