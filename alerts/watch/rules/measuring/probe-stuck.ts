// A probe that says exactly the same for hours.

import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { probeRule } from '../../rule/rule.ts';

export const probeStuck = probeRule({
  kind: 'probe-stuck',
  on: 'reading',
  priority: 'low',
  detects: 'A probe whose value has not changed at all for hours and many readings.',
  formula: 'value exactly unchanged for ≥ hours and ≥ readings',
  parameters: {
    same_hours: parameter('unchanged for so long', 'hours', 12, [0.5, 240]),
    same_count: parameter('and for so many readings', 'count', 100, [10, 100_000]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  rationale: 'It is likely the probe, and nothing is hot yet.',
  consequence: 'A change would go unseen.',
  response: 'Warm the probe with your hand; replace it when it does not follow.',
  evaluate: ({ at, celsius, signal, station }, p) => {
    if (at - signal.sameSince < p.same_hours * 3_600_000 || signal.sameReadings < p.same_count) return 'gone';
    return {
      evidence: {
        value_celsius: celsius,
        since_at: signal.sameSince,
        ...(station ? { station: station.id } : {}),
      },
    };
  },
});
