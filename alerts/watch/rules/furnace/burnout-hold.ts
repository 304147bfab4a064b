// A burnout furnace left its end temperature before the wax was burnt out without residue.

import { burnsOut } from '../../../../lab/station-kinds.ts';
import type { History, TenMinutes } from '../../measures/ten-minutes.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

/** So far below the end temperature it still holds: furnaces swing by some degrees. */
const HOLDS_WITHIN_CELSIUS = 15;
/** So far below the end temperature it has been switched off. */
const LEFT_CELSIUS = 60;
const STRETCH_MINUTES = 10;
/** A stretch in which it came to the temperature, or left it, counts by half. */
const EDGE_MINUTES = STRETCH_MINUTES / 2;

interface Hold {
  readonly minutes: number;
  /** When it ended, to ten minutes. */
  readonly endedAt: number;
}

/** The newest stay at or above `celsius`, to ten minutes; null when it never came there within the history. */
function newestHold({ closed }: History, celsius: number): Hold | null {
  const last = closed.findLastIndex(({ high }) => high >= celsius);
  if (last < 0) return null;
  let minutes = 0;
  for (let index = last; index >= 0; index -= 1) {
    const stretch: TenMinutes | undefined = closed[index];
    if (stretch === undefined || stretch.high < celsius) break;
    minutes += stretch.low >= celsius ? STRETCH_MINUTES : EDGE_MINUTES;
  }
  return { minutes, endedAt: (closed[last]?.at ?? 0) + STRETCH_MINUTES * 60_000 };
}

export const burnoutHold = stationRule({
  kind: 'burnout-hold',
  priority: 'high',
  extremes: [],
  formula: 'it cooled to 60 °C below hold, and minutes at hold, to ten minutes, < needed minutes',
  parameters: {
    hold_celsius: parameter('celsius', 650, [300, 1100], 'burnout-soak'),
    needed_minutes: parameter('minutes', 30, [5, 360], 'burnout-soak'),
    until_minutes: parameter('minutes', 30, [1, 480]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  appliesTo: ({ kind }) => burnsOut(kind),
  evaluate: ({ at, celsius, history }, p) => {
    if (celsius > p.hold_celsius - LEFT_CELSIUS) return 'gone';
    const hold = newestHold(history, p.hold_celsius - HOLDS_WITHIN_CELSIUS);
    if (hold === null || hold.minutes >= p.needed_minutes) return 'gone';
    if (at - hold.endedAt > p.until_minutes * 60_000) return 'gone';
    return {
      evidence: {
        held_minutes: hold.minutes,
        needed_minutes: p.needed_minutes,
        hold_celsius: p.hold_celsius,
        value_celsius: celsius,
      },
    };
  },
  staysQuiet: ({ history }, p, bounds) =>
    bounds.above(p.hold_celsius - LEFT_CELSIUS) ||
    newestHold(history, p.hold_celsius - HOLDS_WITHIN_CELSIUS) === null,
});
