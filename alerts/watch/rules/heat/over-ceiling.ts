// The wax is hotter than its class may ever be.

import { heats } from '../../../../lab/station-kinds.ts';
import { deadband, guardBand, offDelay, onDelay } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

export const overCeiling = stationRule({
  kind: 'over-ceiling',
  priority: 'high',
  extremes: ['highest'],
  latches: true,
  fewestSamples: 2,
  mayBeSwitchedOff: false,
  formula: 'T > ceiling − r·U',
  parameters: {
    on_delay_seconds: onDelay(0, 'two-samples', 60),
    off_delay_seconds: offDelay(60),
    deadband_celsius_difference: deadband(1.5),
    guard_share: guardBand(1),
  },
  reAlarmMinutes: 30,
  updateStep: 2,
  hiddenBehind: ['fire-risk'],
  appliesTo: (station, limits) => heats(station.kind) && limits.ceiling !== null,
  evaluate: ({ limits, celsius, uncertainty, wax }, p) => {
    if (limits.ceiling === null) return 'unknown';
    const limit = limits.ceiling.value - p.guard_share * uncertainty;
    if (celsius > limit)
      return {
        evidence: {
          value_celsius: celsius,
          ceiling_celsius: limits.ceiling.value,
          uncertainty_celsius_difference: uncertainty,
          certainty: celsius > limits.ceiling.value ? 'over' : 'may-be',
          ...(wax ? { wax: wax.id } : {}),
        },
        worst: celsius,
      };
    return celsius <= limit - p.deadband_celsius_difference ? 'gone' : 'between';
  },
  staysQuiet: ({ limits, uncertainty }, p, bounds) =>
    limits.ceiling === null || bounds.below(limits.ceiling.value - p.guard_share * uncertainty),
});
