// A burnout furnace heats its moulds faster than the maker of the investment allows.

import { burnsOut } from '../../../../lab/station-kinds.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

export const burnoutRamp = stationRule({
  kind: 'burnout-ramp',
  priority: 'medium',
  extremes: [],
  formula: 'dT/dt > limit between from and to, by weighted least squares over about 20 min',
  parameters: {
    limit_celsius_per_hour: parameter('celsius_per_hour', 600, [60, 6000], 'investment-programme'),
    from_celsius: parameter('celsius', 60, [0, 400]),
    to_celsius: parameter('celsius', 500, [100, 1100]),
    on_delay_seconds: onDelay(120),
    off_delay_seconds: offDelay(300),
  },
  appliesTo: ({ kind }) => burnsOut(kind),
  evaluate: ({ celsius, celsiusPerHour }, p) => {
    if (celsiusPerHour === null) return 'unknown';
    if (celsius < p.from_celsius || celsius > p.to_celsius) return 'gone';
    if (celsiusPerHour <= p.limit_celsius_per_hour) return 'gone';
    return {
      evidence: {
        rate_celsius_per_hour: celsiusPerHour,
        value_celsius: celsius,
        limit_celsius_per_hour: p.limit_celsius_per_hour,
      },
    };
  },
  staysQuiet: (_, p, bounds) => bounds.below(p.from_celsius) || bounds.above(p.to_celsius),
});
