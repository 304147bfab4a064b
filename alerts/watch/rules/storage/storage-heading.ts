// A place where patterns wait is heading out of its limits, or beyond its swing of a day.

import { stores } from '../../../../lab/station-kinds.ts';
import { extremesOfLast } from '../../measures/ten-minutes.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

/** Slower than this it is the day's own course, °C an hour. */
const LEAST_RATE = 0.6;
const SWING_DEFAULT = 5;

export const storageHeading = stationRule({
  kind: 'storage-heading',
  priority: 'high',
  detects:
    'A place that will leave its limits, or swing too far within 24 hours, if it goes on changing as it does.',
  formula:
    'T + dT/dt · horizon beyond a limit with T within near of it; or swing of 24 h so far > share · limit, T at its edge and moving outwards to beyond the limit within the horizon',
  parameters: {
    horizon_minutes: parameter('announced when the limit is nearer than this', 'minutes', 30, [5, 240]),
    near_celsius_difference: parameter('and T is within this of it', 'celsius_difference', 2, [0.2, 10]),
    swing_limit_celsius_difference: parameter(
      'swing within 24 hours that must not be passed',
      'celsius_difference',
      SWING_DEFAULT,
      [0.5, 30],
      'no published limit for stored wax patterns is known',
    ),
    on_delay_seconds: onDelay(240),
    off_delay_seconds: offDelay(1200),
  },
  rationale: 'There is still time to keep the patterns where they are good.',
  consequence: 'Patterns move with the temperature; margins open.',
  response: 'Look for a window, a door, sun or a heater; move the patterns to a steady place.',
  hiddenBehind: ['storage-warm', 'storage-cold', 'storage-swing', 'door-open'],
  appliesTo: (station) => stores(station.kind),
  evaluate: ({ celsius, celsiusPerHour, history, limits }, p) => {
    if (celsiusPerHour === null) return 'unknown';
    const rate = celsiusPerHour;
    if (Math.abs(rate) < LEAST_RATE) return 'gone';
    const ahead = celsius + (rate * p.horizon_minutes) / 60;
    const high = limits.storageMax?.value ?? Number.POSITIVE_INFINITY;
    const low = limits.windowLow?.value ?? Number.NEGATIVE_INFINITY;
    const evidence = (limit: number, side: 'warm' | 'cold' | 'swing') => ({
      evidence: { value_celsius: celsius, limit_celsius: limit, rate_celsius_per_hour: rate, side },
    });
    if (rate > 0 && ahead > high && celsius > high - p.near_celsius_difference) return evidence(high, 'warm');
    if (rate < 0 && ahead < low && celsius < low + p.near_celsius_difference) return evidence(low, 'cold');
    const span = extremesOfLast(history, 24);
    if (span === null) return 'gone';
    const limit = p.swing_limit_celsius_difference;
    const extended = Math.max(span.high, ahead) - Math.min(span.low, ahead);
    const isAtEdge = rate > 0 ? celsius >= span.high - 0.3 : celsius <= span.low + 0.3;
    if (isAtEdge && extended > limit && span.high - span.low > 0.7 * limit)
      return evidence(rate > 0 ? span.low + limit : span.high - limit, 'swing');
    return 'gone';
  },
});
