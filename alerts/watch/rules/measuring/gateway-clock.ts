// A gateway whose clock is steadily wrong, or jumps.

import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { gatewayRule } from '../../rule/rule.ts';

export const gatewayClock = gatewayRule({
  kind: 'gateway-clock',
  priority: 'low',
  formula: '|arrival − newest instant| > limit, steady within 30 s; or 3 jumps within 1 h',
  parameters: {
    limit_minutes: parameter('minutes', 2, [0.5, 60]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  evaluate: ({ clockLagMillis, isClockUnsteady }, p) => {
    if (isClockUnsteady) return { evidence: { how: 'unsteady', whose: 'unsteady' } };
    if (clockLagMillis === null) return 'unknown';
    if (Math.abs(clockLagMillis) <= p.limit_minutes * 60_000) return 'gone';
    return {
      evidence: {
        how: clockLagMillis > 0 ? 'behind' : 'ahead',
        lag_minutes: Math.abs(clockLagMillis) / 60_000,
      },
    };
  },
});
