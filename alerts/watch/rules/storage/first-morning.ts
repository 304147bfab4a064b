// Rooms are heated up before people come, each working day as far. On the first morning, and on the one after closed days,
// the day before does not show where that ends.

import { MILLIS_PER_HOUR } from '../../../../wax/units.ts';
import { hoursOfHistory } from '../../measures/ten-minutes.ts';
import type { StationInput } from '../../rule/rule-input.ts';

/** With fewer hours of history the same hour of a day before was not seen; closed for longer, no morning was in it. */
export const WHOLE_DAY_HOURS = 20;
/** Before the lab opens, and after; heavy walls take hours. Engineering estimates. */
const HEATING_UP_HOURS = { before: 3, after: 1 };

export function isFirstMorning({ at, history, hours }: StationInput): boolean {
  const { open, from, to } = hours;
  const [opens, span] = open ? [from, HEATING_UP_HOURS.after] : [to, HEATING_UP_HOURS.before];
  if (opens === null || Math.abs(at - opens) >= span * MILLIS_PER_HOUR) return false;
  const wasClosed = !open && from !== null && at - from >= WHOLE_DAY_HOURS * MILLIS_PER_HOUR;
  return wasClosed || hoursOfHistory(history) < WHOLE_DAY_HOURS;
}
