// In working hours a heater that is on must be where its wax can be worked.

import { heats } from '../../../../lab/station-kinds.ts';
import { isKnownBelow } from '../../measures/below-window.ts';
import { extremesOfLast } from '../../measures/ten-minutes.ts';
import { deadband, guardBand, offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { stationRule } from '../../rule/rule.ts';
import { wasBroughtDown } from './brought-down.ts';
import { isClosing } from './closing.ts';

/** A heater that has just arrived in its window settles for so long. Common practice. */
const ARRIVAL_MILLIS = 30 * 60_000;
/** Faster than this it is on its way, °C an hour. */
const MOVING_RATE = 2;
/** Whoever finds a heater over its ceiling brings it down; for so long that is no second alarm. Common practice. */
const BROUGHT_DOWN_HOURS = 0.5;

/** Below its window shortly before closing, or after it was brought down from its ceiling, it cools on purpose. */
function isSwitchedOff(input: StationInput, celsius: number, closingMinutes: number): boolean {
  const { history, limits, plannedOff } = input;
  const highest = extremesOfLast(history, BROUGHT_DOWN_HOURS)?.high ?? celsius;
  return (
    plannedOff ||
    isClosing(input, closingMinutes * 60_000) ||
    (limits.ceiling !== null && highest > limits.ceiling.value)
  );
}

export const outsideWindow = stationRule({
  kind: 'outside-window',
  priority: 'medium',
  extremes: ['highest', 'lowest'],
  formula:
    'open, on, and (T < window low − r·U or T > window high + r·U, not while it falls from above its ceiling and has not turned up since); below its window only where it is 1 K lower than people were called for within 8 days',
  parameters: {
    guard_share: guardBand(1),
    deadband_celsius_difference: deadband(1),
    on_delay_seconds: onDelay(1200, 'ingot-melts'),
    off_delay_seconds: offDelay(120),
    warm_up_minutes: parameter('minutes', 90, [5, 480]),
    closing_minutes: parameter('minutes', 60, [0, 240]),
  },
  hiddenBehind: [
    'probe-out',
    'heater-weak',
    'bath-drift',
    'fire-risk',
    'over-ceiling',
    'heading-over',
    'runaway',
    'no-heat',
    'wrong-bath',
  ],
  appliesTo: (station, limits) =>
    heats(station.kind) && limits.windowLow !== null && limits.windowHigh !== null,
  evaluate: (input, p) => {
    const { activity, at, hours } = input;
    // The mean of some minutes: a thermostat that swings past an edge is in its window.
    const celsius = input.recent?.mean ?? input.celsius;
    const { windowLow, windowHigh } = input.limits;
    if (windowLow === null || windowHigh === null) return 'unknown';
    if (!hours.open || activity === null || activity.kind === 'cold') return 'gone';
    const since = at - activity.since;
    if (since < (activity.kind === 'warming' ? p.warm_up_minutes * 60_000 : ARRIVAL_MILLIS)) return 'gone';
    const guard = p.guard_share * input.uncertainty;
    const band = p.deadband_celsius_difference;
    const below = windowLow.value - guard - celsius;
    const above = celsius - windowHigh.value - guard;
    if (above > 0 && wasBroughtDown(input)) return 'gone';
    if (below <= 0 && above <= 0) return Math.max(below, above) <= -band || band === 0 ? 'gone' : 'between';
    if (below > 0 && isKnownBelow(input.belowWindow, at, celsius)) return 'between';
    // On its way up it is warming, and what falls and falls is switched off or dead: other rules see that.
    if (
      below > 0 &&
      (isSwitchedOff(input, celsius, p.closing_minutes) || Math.abs(input.celsiusPerHour ?? 0) > MOVING_RATE)
    )
      return 'between';
    return {
      evidence: {
        value_celsius: celsius,
        low_celsius: windowLow.value,
        high_celsius: windowHigh.value,
        side: below > 0 ? 'below' : 'above',
      },
    };
  },
  staysQuiet: ({ activity, hours, limits, uncertainty }, p, bounds) => {
    const { windowLow, windowHigh } = limits;
    if (windowLow === null || windowHigh === null) return true;
    if (!hours.open || activity === null || activity.kind === 'cold') return true;
    const settling = activity.kind === 'warming' ? p.warm_up_minutes * 60_000 : ARRIVAL_MILLIS;
    if (bounds.until(activity.since + settling)) return true;
    const guard = p.guard_share * uncertainty;
    return bounds.meanBetween(windowLow.value - guard, windowHigh.value + guard);
  },
});
