// A probe sends nothing any more, or never has. An old value is never taken for good: lost data is a state of its own.

import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { probeRule } from '../../rule/rule.ts';

/** From a missed reading to the next it takes a period; a reading may come a little late. */
const LATE_PERIODS = 0.5;
/** Longer nobody need be blind, where a probe could have sent five times meanwhile. Common practice. */
const LONGEST_SECONDS = 1560;
const FEWEST_PERIODS = 5;

export const probeSilent = probeRule({
  kind: 'probe-silent',
  on: 'passing-time',
  priority: 'medium',
  mayBeSwitchedOff: false,
  formula:
    'now − newest reading > max((periods + ½) · usual period, least time); beyond 26 min not more than 5 periods',
  parameters: {
    periods_count: parameter('count', 5, [2, 20]),
    least_seconds: parameter('seconds', 300, [10, 14_400]),
    on_delay_seconds: onDelay(0, undefined, 600),
    off_delay_seconds: offDelay(0),
  },
  hiddenBehind: ['gateway-lost'],
  evaluate: ({ at, newestAt, silentSince, periodSeconds, station, celsius, gateway }, p) => {
    const silentSeconds = (at - silentSince) / 1000;
    const usual = Math.min(
      (p.periods_count + LATE_PERIODS) * periodSeconds,
      Math.max(LONGEST_SECONDS, FEWEST_PERIODS * periodSeconds),
    );
    if (silentSeconds <= Math.max(usual, p.least_seconds)) return 'gone';
    return {
      evidence: {
        how: newestAt === 0 ? 'never' : 'silent',
        ...(newestAt > 0 && { newest_at: newestAt, value_celsius: celsius }),
        gateway,
        ...(station ? { station: station.id } : {}),
      },
    };
  },
  quietUntil: ({ silentSince }, p) => silentSince + 1000 * p.least_seconds,
});
