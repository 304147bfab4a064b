// A probe whose readings scatter about their neighbours.

import { heats } from '../../../../lab/station-kinds.ts';
import { noiseOf } from '../../measures/probe-signal.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { probeRule } from '../../rule/rule.ts';

export const probeNoisy = probeRule({
  kind: 'probe-noisy',
  on: 'reading',
  priority: 'low',
  formula: 'standard deviation of a reading, from how successive bends contradict each other > limit',
  parameters: {
    limit_celsius_difference: parameter('celsius_difference', 0.7, [0.05, 10]),
    heater_period_seconds: parameter('seconds', 15, [1, 120]),
    on_delay_seconds: onDelay(300),
    off_delay_seconds: offDelay(600),
  },
  figuresOnlyAt: { heater_period_seconds: heats },
  evaluate: ({ signal, station, celsius, periodSeconds }, p) => {
    if (station !== null && heats(station.kind) && periodSeconds > p.heater_period_seconds) return 'gone';
    const noise = noiseOf(signal);
    if (noise === null) return 'unknown';
    if (noise <= p.limit_celsius_difference)
      return noise <= 0.7 * p.limit_celsius_difference ? 'gone' : 'between';
    return {
      evidence: {
        noise_celsius_difference: noise,
        value_celsius: celsius,
        ...(station ? { station: station.id } : {}),
      },
    };
  },
  staysQuiet: (_, p, bounds) => bounds.smootherThan(p.limit_celsius_difference ** 2),
});
