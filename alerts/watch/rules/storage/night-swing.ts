// What a place did overnight, noted once in the morning: it is over, and the night sheet shows what is to be checked.

import { stores } from '../../../../lab/station-kinds.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

export const nightSwing = stationRule({
  kind: 'night-swing',
  priority: 'notice',
  extremes: ['highest', 'lowest'],
  formula: 'max(T) − min(T) from closing to opening > limit',
  parameters: {
    limit_celsius_difference: parameter('celsius_difference', 4, [0.5, 30], 'no-storage-limit'),
    told_hours: parameter('hours', 4, [0.5, 12]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  appliesTo: (station) => stores(station.kind),
  evaluate: ({ overnight, at, hours }, p) => {
    if (!hours.open || overnight === null || overnight.endedAt === null) return 'gone';
    const swing = overnight.high - overnight.low;
    if (swing <= p.limit_celsius_difference || at - overnight.endedAt > p.told_hours * 3_600_000)
      return 'gone';
    return {
      evidence: { swing_celsius_difference: swing, low_celsius: overnight.low, high_celsius: overnight.high },
    };
  },
  // While the lab is open, the extremes of the night stay; what was reported for its hours is not reported anew.
  staysQuiet: () => true,
});
