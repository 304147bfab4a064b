// The temperature leaves the band that the thermostat kept for two hours, upwards, and goes on rising.

import { heats } from '../../../../lab/station-kinds.ts';
import { extremesBetween } from '../../measures/ten-minutes.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

export const runaway = stationRule({
  kind: 'runaway',
  priority: 'high',
  detects: 'A heater that was in its window for two hours and now rises above what its thermostat kept.',
  formula:
    'T > top + max(margin, (top − bottom)/2) over the last 2 h without the newest 20 min, and dT/dt > 0',
  parameters: {
    margin_celsius_difference: parameter('above the usual top by this', 'celsius_difference', 2, [0.5, 20]),
    on_delay_seconds: onDelay(60),
    off_delay_seconds: offDelay(300),
  },
  rationale: 'A thermostat that sticks ends over the ceiling; it is told before that.',
  consequence: 'The wax goes over its ceiling.',
  response: 'Check that the sensor sits in the wax; switch off if it goes on rising.',
  hiddenBehind: ['fire-risk', 'over-ceiling', 'heading-over'],
  appliesTo: (station, limits) => heats(station.kind) && limits.windowLow !== null,
  evaluate: ({ history, at, celsius, celsiusPerHour, limits, activity }, p) => {
    const band = extremesBetween(history, 2 + 1 / 3, 1 / 3);
    const settledFrom = (limits.windowLow?.value ?? 0) - 2;
    const isSettled =
      band !== null &&
      band.low >= settledFrom &&
      activity?.kind === 'hot' &&
      at - activity.since > 2 * 3_600_000;
    if (!isSettled || celsiusPerHour === null) return 'unknown';
    const top = band.high + Math.max(p.margin_celsius_difference, (band.high - band.low) / 2);
    if (celsius <= top || celsiusPerHour <= 0) return 'gone';
    return {
      evidence: {
        value_celsius: celsius,
        band_high_celsius: band.high,
        rate_celsius_per_hour: celsiusPerHour,
      },
    };
  },
});
