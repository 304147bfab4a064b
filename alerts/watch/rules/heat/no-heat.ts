// A heater that should be on and does not get warm.

import { heats } from '../../../../lab/station-kinds.ts';
import { extremesOfLast } from '../../measures/ten-minutes.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

const FLAT_HOURS = 0.5;

export const noHeat = stationRule({
  kind: 'no-heat',
  priority: 'medium',
  detects:
    'A heater below its window that has stood still for half an hour in working hours, or was planned on and stays cold.',
  formula:
    'open, T < window low − margin, highest − lowest over 30 min < movement, not inside the melting range',
  parameters: {
    margin_celsius_difference: parameter('below the window by this', 'celsius_difference', 5, [1, 60]),
    movement_celsius_difference: parameter(
      'less movement than this is none',
      'celsius_difference',
      1.5,
      [0.2, 10],
    ),
    on_delay_seconds: onDelay(300),
    off_delay_seconds: offDelay(120),
  },
  rationale: 'Nobody can work with it, and nobody need wait for it.',
  consequence: 'Work waits or is done with wax that is too cold.',
  response: 'Check plug, switch, fuse and setting; leave repairs to a licensed person.',
  appliesTo: (station, limits) => heats(station.kind) && limits.windowLow !== null,
  evaluate: ({ hours, activity, at, celsius, history, limits, wax, plannedOff, plannedOnAt }, p) => {
    if (limits.windowLow === null || activity === null) return 'unknown';
    const wanted =
      activity.kind !== 'cold' || (plannedOnAt !== null && at - plannedOnAt > FLAT_HOURS * 3_600_000);
    if (!hours.open || plannedOff || !wanted) return 'gone';
    if (celsius >= limits.windowLow.value - p.margin_celsius_difference) return 'gone';
    // Melting takes heat without getting warmer.
    if (wax !== null && celsius > wax.melting.low.value - 2 && celsius < wax.melting.high.value + 2)
      return 'gone';
    const lately = extremesOfLast(history, FLAT_HOURS);
    const first = history.closed[0];
    if (lately === null || first === undefined || at - first.at < FLAT_HOURS * 3_600_000) return 'unknown';
    if (lately.high - lately.low >= p.movement_celsius_difference) return 'gone';
    return {
      evidence: {
        value_celsius: celsius,
        low_celsius: limits.windowLow.value,
        flat_minutes: FLAT_HOURS * 60,
      },
    };
  },
});
