// A gateway reported itself offline, or its last will did, or all its probes fell silent at once: one cause, one alarm.

import { COMMON_SILENCE } from '../../measures/silence-length.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { gatewayRule } from '../../rule/rule.ts';

export const gatewayLost = gatewayRule({
  kind: 'gateway-lost',
  priority: 'high',
  mayBeSwitchedOff: false,
  formula: `state = offline, or (probes ≥ least number, all of them overdue, and one silent for max(${COMMON_SILENCE.periods}½ usual periods, ${COMMON_SILENCE.leastSeconds} s))`,
  parameters: {
    least_probes_count: parameter('count', 2, [2, 100]),
    on_delay_seconds: onDelay(150, 'short-radio-loss', 600),
    off_delay_seconds: offDelay(0),
  },
  reAlarmMinutes: 60,
  updateStep: 1,
  evaluate: (input, p) => {
    const { online, changedAt, probes, silentProbes, allSilent, lastReadingAt, at, gateway } = input;
    const saidOffline = online === false;
    if (!saidOffline && !(allSilent && probes >= p.least_probes_count)) return 'gone';
    const since = saidOffline ? (changedAt ?? at) : lastReadingAt;
    const canWait = input.canWait();
    return {
      get evidence() {
        return {
          ...(since !== null && { since_at: since }),
          probes_count: probes,
          silent_count: saidOffline ? probes : silentProbes,
          how: saidOffline ? 'said-offline' : since === null ? 'never' : 'all-silent',
          gateway,
          ...input.whatToLookAt(),
          urgency: canWait ? 'can-wait' : 'now',
        };
      },
      worst: canWait ? 0 : 1,
    };
  },
});
