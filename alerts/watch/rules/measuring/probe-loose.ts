// A probe whose values leap away and back again: its contact is loose.

import { spikesAt } from '../../measures/probe-signal.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { probeRule } from '../../rule/rule.ts';

export const probeLoose = probeRule({
  kind: 'probe-loose',
  on: 'reading',
  priority: 'medium',
  formula:
    'leaps that no wax, bath or room can make, each fading by 1/e within 1 h, ≥ count; counted as 2: within 15 min a reading leaps above what it was over the last half hour and back, and another below it, each by ≥ 1.5 K and 6 times its usual change between readings, at pots and baths 3 K and 3 times, two moves together (read each 200 s or more often)',
  parameters: {
    spikes_count: parameter('count', 2, [1, 20]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(1800),
  },
  hiddenBehind: ['probe-out'],
  evaluate: ({ at, celsius, signal, station }, p) => {
    const spikes = spikesAt(signal, at);
    if (spikes < p.spikes_count - 0.1) return spikes < p.spikes_count / 2 ? 'gone' : 'between';
    return {
      evidence: {
        value_celsius: celsius,
        spikes_count: Math.round(spikes),
        ...(station ? { station: station.id } : {}),
      },
    };
  },
  // Spikes only fade.
  staysQuiet: () => true,
});
