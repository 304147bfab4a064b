// A burnout furnace is hotter than its investment withstands: gypsum breaks down and gives off sulphur that spoils the alloy.

import { burnsOut } from '../../../../lab/station-kinds.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

export const burnoutHot = stationRule({
  kind: 'burnout-hot',
  priority: 'high',
  extremes: ['highest'],
  fewestSamples: 2,
  formula: 'T > limit',
  parameters: {
    limit_celsius: parameter('celsius', 950, [400, 1150], 'investment-limit'),
    deadband_celsius_difference: parameter('celsius_difference', 10, [0, 20]),
    on_delay_seconds: onDelay(60),
    off_delay_seconds: offDelay(120),
  },
  updateStep: 10,
  appliesTo: ({ kind }) => burnsOut(kind),
  evaluate: ({ celsius }, p) => {
    if (celsius <= p.limit_celsius)
      return celsius <= p.limit_celsius - p.deadband_celsius_difference ? 'gone' : 'between';
    return { evidence: { value_celsius: celsius, limit_celsius: p.limit_celsius }, worst: celsius };
  },
  staysQuiet: (_, p, bounds) => bounds.below(p.limit_celsius),
});
