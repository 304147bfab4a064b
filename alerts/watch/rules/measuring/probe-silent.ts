// A probe sends nothing any more, or never has. An old value is never taken for good: lost data is a state of its own.

import { GONE_GRACE_SECONDS, silenceSeconds } from '../../measures/silence-length.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { probeRule } from '../../rule/rule.ts';

const GONE_MILLIS = 1000 * GONE_GRACE_SECONDS;

export const probeSilent = probeRule({
  kind: 'probe-silent',
  on: 'passing-time',
  priority: 'medium',
  looksAround: true,
  mayBeSwitchedOff: false,
  formula: `now − newest reading > max((periods + ½) · usual time between deliveries, least time), beyond 28 min not more than 5 of them; or reported gone by its gateway for ${GONE_GRACE_SECONDS} s`,
  parameters: {
    periods_count: parameter('count', 8, [2, 20]),
    least_seconds: parameter('seconds', 480, [10, 14_400]),
    on_delay_seconds: onDelay(0, undefined, 600),
    off_delay_seconds: offDelay(0),
  },
  hiddenBehind: ['gateway-lost'],
  evaluate: (
    { at, newestAt, silentSince, goneAt, deliversEverySeconds, station, celsius, gateway, isAtWork },
    p,
  ) => {
    const silentSeconds = (at - silentSince) / 1000;
    const isGone = goneAt !== null && at >= goneAt + GONE_MILLIS;
    const figures = { periods: p.periods_count, leastSeconds: p.least_seconds };
    if (!isGone && silentSeconds <= silenceSeconds(figures, deliversEverySeconds)) return 'gone';
    return {
      evidence: {
        how: newestAt === 0 ? 'never' : isGone ? 'reported' : 'silent',
        ...(newestAt > 0 && { newest_at: newestAt, value_celsius: celsius }),
        gateway,
        // A heater that was hot when it was last seen cannot wait for the morning.
        ...(isAtWork && newestAt > 0 && { urgency: 'now' }),
        ...(station ? { station: station.id } : {}),
      },
    };
  },
  quietUntil: ({ silentSince, goneAt }, p) =>
    Math.min(silentSince + 1000 * p.least_seconds, (goneAt ?? Number.POSITIVE_INFINITY) + GONE_MILLIS),
});
