// A probe sends nothing any more, or never has. An old value is never taken for good: lost data is a state of its own.

import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { probeRule } from '../../rule/rule.ts';

/** From a missed reading to the next it takes a period; a reading may come a little late. */
const LATE_PERIODS = 0.5;
/** Longer nobody need be blind, where a probe could have sent five times meanwhile. Common practice. */
const LONGEST_SECONDS = 1680;
const FEWEST_PERIODS = 5;
/**
 * A radio that loses a tenth of its messages in bursts loses five in a row now and then, so that the silence of one probe
 * is waited for longer. Where all probes of a gateway miss as many at once, that is no chance.
 */
const GATEWAY_PERIODS = 5;
const GATEWAY_LEAST_SECONDS = 300;

const silenceSeconds = (periods: number, leastSeconds: number, periodSeconds: number): number =>
  Math.max(
    leastSeconds,
    Math.min(
      (periods + LATE_PERIODS) * periodSeconds,
      Math.max(LONGEST_SECONDS, FEWEST_PERIODS * periodSeconds),
    ),
  );

export const probeSilent = probeRule({
  kind: 'probe-silent',
  on: 'passing-time',
  priority: 'medium',
  looksAround: true,
  mayBeSwitchedOff: false,
  formula:
    'now − newest reading > max((periods + ½) · usual period, least time); beyond 28 min not more than 5 periods',
  parameters: {
    periods_count: parameter('count', 8, [2, 20]),
    least_seconds: parameter('seconds', 480, [10, 14_400]),
    on_delay_seconds: onDelay(0, undefined, 600),
    off_delay_seconds: offDelay(0),
  },
  hiddenBehind: ['gateway-lost'],
  evaluate: ({ at, newestAt, silentSince, periodSeconds, station, celsius, gateway, isAtWork }, p) => {
    const silentSeconds = (at - silentSince) / 1000;
    if (silentSeconds <= silenceSeconds(p.periods_count, p.least_seconds, periodSeconds)) {
      const asOneOfMany = silenceSeconds(GATEWAY_PERIODS, GATEWAY_LEAST_SECONDS, periodSeconds);
      return silentSeconds <= asOneOfMany ? 'gone' : 'between';
    }
    return {
      evidence: {
        how: newestAt === 0 ? 'never' : 'silent',
        ...(newestAt > 0 && { newest_at: newestAt, value_celsius: celsius }),
        gateway,
        // A heater that was hot when it was last seen cannot wait for the morning.
        ...(isAtWork && newestAt > 0 && { urgency: 'now' }),
        ...(station ? { station: station.id } : {}),
      },
    };
  },
  quietUntil: ({ silentSince }, p) => silentSince + 1000 * Math.min(p.least_seconds, GATEWAY_LEAST_SECONDS),
});
