// A gateway whose clock is steadily wrong.

import { steadyLagMillis } from '../../measures/gateway-clock.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { gatewayRule } from '../../rule/rule.ts';

export const gatewayClock = gatewayRule({
  kind: 'gateway-clock',
  priority: 'low',
  detects:
    'Messages of a gateway whose newest reading is always by the same time too old or too new, for ten minutes.',
  formula: '|arrival − newest instant| > limit, steady within 30 s',
  parameters: {
    limit_minutes: parameter('wrong by more than this', 'minutes', 2, [0.5, 60]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  rationale: 'Readings come, under the wrong time.',
  consequence: 'Nights and doses come out wrong; readings count as old.',
  response: 'Set the clock of the gateway, or let it send readings without a time.',
  evaluate: ({ clock }, p) => {
    const lag = steadyLagMillis(clock);
    if (lag === null) return 'unknown';
    if (Math.abs(lag) <= p.limit_minutes * 60_000) return 'gone';
    return { evidence: { lag_minutes: lag / 60_000 } };
  },
});
