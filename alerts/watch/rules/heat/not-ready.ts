// A heater that the lab wants ready by a time of the day and that cannot be, cold or too slow on its way. It needs no day
// to learn from: what is usual for the heater is judged elsewhere.

import { isThermostatic } from '../../../../lab/station-kinds.ts';
import { lowestWithin, reachOf } from '../../measures/recent.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { stationRule } from '../../rule/rule.ts';

const MINUTE_MILLIS = 60_000;
/** Nobody waits for it any longer. */
const LATE_SHOWN_MINUTES = 120;
/** On a day that opens no sooner than this after its time, it is not wanted. */
const BEFORE_OPENING_MILLIS = 4 * 3_600_000;
/** A rise is measured over so long, and may become twice as fast. Engineering estimate. */
const RISE_MILLIS = 6 * MINUTE_MILLIS;
const FASTER = 2;
/** So far below its melting range wax only gets warmer; in it, it takes heat without. */
const MELTING_CELSIUS = 2;
/** Its time is looked at anew at least so often: on the day of a clock change the hands leap. */
const LOOK_MINUTES = 15;

const minuteOf = (time: string): number => 60 * Number(time.slice(0, 2)) + Number(time.slice(3));

const DAY_MINUTES = 24 * 60;
/** Minutes until the nearest time of the day of its, negative after it; null where the lab has entered none. */
const minutesLeft = (input: StationInput): number | null => {
  const { ready_by: readyBy } = input.station;
  if (readyBy === undefined) return null;
  const left = minuteOf(readyBy) - input.minuteOfDay();
  if (left > DAY_MINUTES / 2) return left - DAY_MINUTES;
  return left < -DAY_MINUTES / 2 ? left + DAY_MINUTES : left;
};

const isWorkingDay = ({ at, hours }: StationInput): boolean =>
  hours.open || (hours.to !== null && hours.to - at <= BEFORE_OPENING_MILLIS);

/** Colder than this it is neither melting nor at its window, °C. */
const farBelow = ({ limits, wax }: StationInput): number =>
  Math.min(limits.windowLow?.value ?? Number.NEGATIVE_INFINITY, wax?.melting.low.value ?? Infinity) -
  MELTING_CELSIUS;

/** Twice as fast as in the last minutes it would not even begin to melt by its time. */
function isTooSlow(input: StationInput, left: number): boolean {
  const { at, celsius, recent } = input;
  if (recent === null || reachOf(recent, at) < RISE_MILLIS) return false;
  const rise = celsius - lowestWithin(recent, at, RISE_MILLIS);
  return celsius + (FASTER * rise * Math.max(0, left)) / (RISE_MILLIS / MINUTE_MILLIS) < farBelow(input);
}

export const notReady = stationRule({
  kind: 'not-ready',
  priority: 'medium',
  extremes: ['lowest'],
  looksAround: true,
  formula:
    'from ahead minutes before the time by which it is to be ready, on a working day, until 2 h after it: T < window low and T + 2 · rise of 6 min · time left / 6 min < low end of its melting range or window − 2 K, and not every other heater is cold as well',
  parameters: {
    ahead_minutes: parameter('minutes', 15, [5, 120]),
    on_delay_seconds: onDelay(180),
    off_delay_seconds: offDelay(300),
  },
  hiddenBehind: ['no-heat', 'heater-weak', 'probe-out'],
  appliesTo: (station, limits) => isThermostatic(station.kind) && limits.windowLow !== null,
  evaluate: (input, p) => {
    const { activity, at, celsius, limits, plannedOff, plannedOnAt } = input;
    const left = minutesLeft(input);
    if (limits.windowLow === null || activity === null) return 'unknown';
    // What people mean to do today goes before the usual time.
    if (left === null || plannedOff || plannedOnAt !== null || !isWorkingDay(input)) return 'gone';
    if (left > p.ahead_minutes || left < -LATE_SHOWN_MINUTES) return 'gone';
    if (celsius >= limits.windowLow.value || activity.kind === 'hot') return 'gone';
    if (!isTooSlow(input, left)) return 'gone';
    // Nothing is on in the whole lab: a day off that nobody entered.
    if (activity.kind === 'cold' && input.othersAtWork() === false) return 'gone';
    return {
      evidence: {
        value_celsius: celsius,
        low_celsius: limits.windowLow.value,
        ready_at: (Math.floor(at / MINUTE_MILLIS) + left) * MINUTE_MILLIS,
      },
    };
  },
  staysQuiet: (input, p, bounds) => {
    const { at, limits, plannedOff, plannedOnAt } = input;
    const left = minutesLeft(input);
    if (limits.windowLow === null || left === null || plannedOff || plannedOnAt !== null) return true;
    if (bounds.above(limits.windowLow.value)) return true;
    const minutes =
      left < -LATE_SHOWN_MINUTES ? LOOK_MINUTES : Math.min(left - p.ahead_minutes, LOOK_MINUTES);
    return minutes > 0 && bounds.until((Math.floor(at / MINUTE_MILLIS) + minutes) * MINUTE_MILLIS);
  },
});
