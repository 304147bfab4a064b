// Rooms are heated up before people come, each day as far. On the first one nobody has seen yet where that ends.

import { MILLIS_PER_HOUR } from '../../../../wax/units.ts';
import { hoursOfHistory } from '../../measures/ten-minutes.ts';
import type { StationInput } from '../../rule/rule-input.ts';

/** With fewer hours of history the same hour of a day before was not seen. */
export const WHOLE_DAY_HOURS = 20;
/** Before the lab opens, and after; heavy walls take hours. Engineering estimates. */
const HEATING_UP_HOURS = { before: 3, after: 1 };

export function isFirstMorning({ at, history, hours }: StationInput): boolean {
  if (hoursOfHistory(history) >= WHOLE_DAY_HOURS) return false;
  const [opens, span] = hours.open
    ? [hours.from, HEATING_UP_HOURS.after]
    : [hours.to, HEATING_UP_HOURS.before];
  return opens !== null && Math.abs(at - opens) < span * MILLIS_PER_HOUR;
}
