// A place where patterns wait swung too far within a day.

import { stores } from '../../../../lab/station-kinds.ts';
import { hoursOfHistory, extremesOfLast } from '../../measures/ten-minutes.ts';
import { deadband, offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

export const storageSwing = stationRule({
  kind: 'storage-swing',
  priority: 'medium',
  detects: 'The difference between the warmest and the coldest of a sliding window, ten minutes fine.',
  formula: 'max(T) − min(T) over the last hours > limit',
  parameters: {
    limit_celsius_difference: parameter(
      'peak to peak',
      'celsius_difference',
      5,
      [0.5, 30],
      'no published limit for stored wax patterns is known; 5 °C at 350e-6 /°C is 0.18 % of length',
    ),
    window_hours: parameter('in so many hours', 'hours', 24, [1, 24]),
    deadband_celsius_difference: deadband(0.5),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(600),
  },
  rationale: 'Patterns move with every swing; what lies there should be looked at today.',
  consequence: 'Patterns warp and margins open.',
  response: 'Find the cause; check the fit of the patterns that lie there.',
  updateStep: 2,
  appliesTo: (station) => stores(station.kind),
  evaluate: ({ history }, p) => {
    const span = extremesOfLast(history, p.window_hours);
    if (span === null) return 'unknown';
    const swing = span.high - span.low;
    if (swing <= p.limit_celsius_difference)
      return swing <= p.limit_celsius_difference - p.deadband_celsius_difference ? 'gone' : 'between';
    return {
      evidence: {
        swing_celsius_difference: swing,
        low_celsius: span.low,
        high_celsius: span.high,
        window_hours: Math.min(p.window_hours, Math.max(1, hoursOfHistory(history))),
      },
      worst: swing,
    };
  },
});
