// The days of a span as the lab counts them, in its own zone: a day of a clock change has 23 or 25 hours.

import { Temporal } from 'temporal-polyfill';
import type { LocalDay } from '../../../lab/calendar.ts';
import { type EpochMillis, epochMillis } from '../../../wax/units.ts';

/** Days that the span touches, the first and the last cut to it. */
export function localDays(timeZone: string, from: EpochMillis, to: EpochMillis): readonly LocalDay[] {
  const days: LocalDay[] = [];
  let date = Temporal.Instant.fromEpochMilliseconds(from).toZonedDateTimeISO(timeZone).toPlainDate();
  let at = from;
  while (at < to) {
    const next = date.add({ days: 1 });
    const end = epochMillis(Math.min(next.toZonedDateTime({ timeZone }).epochMilliseconds, to));
    days.push({ date: date.toString(), from: at, to: end });
    date = next;
    at = end;
  }
  return days;
}
