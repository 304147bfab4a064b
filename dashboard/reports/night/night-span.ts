// Which span of time a sheet is about: from closing to opening in the lab's zone, weekends and holidays whole, the
// clock changes in it. Pure over the calendar. A lab without working hours gets a usual night, and the sheet states it.

import { Temporal } from 'temporal-polyfill';
import { lastNight, nightOver } from '../../../lab/calendar.ts';
import type { Site } from '../../../lab/lab.ts';
import { type EpochMillis, epochMillis } from '../../../wax/units.ts';

export interface NightSpan {
  /** Morning of the opening, `YYYY-MM-DD` in the lab's zone: the name of the night. */
  readonly date: string;
  readonly from: EpochMillis;
  /** The opening; it may lie ahead. */
  readonly opens: EpochMillis;
  /** False where no working hours are set, or the lab works at 03:00, and the usual night stands in. */
  readonly hoursKnown: boolean;
}

/** What counts as a night where the lab has named no hours, wall clock. Common practice. */
const USUAL_CLOSING = '18:00';
const USUAL_OPENING = '07:00';
/** A night is named by the day on which it is this late. */
const NIGHT_DEEPEST = '03:00';

const at = (site: Site, date: Temporal.PlainDate, plainTime: string): EpochMillis =>
  epochMillis(date.toZonedDateTime({ timeZone: site.timeZone, plainTime }).epochMilliseconds);

export const localDate = (site: Site, instant: EpochMillis): string =>
  Temporal.Instant.fromEpochMilliseconds(instant).toZonedDateTimeISO(site.timeZone).toPlainDate().toString();

const usualNight = (site: Site, date: string): NightSpan => {
  const morning = Temporal.PlainDate.from(date);
  return {
    date,
    from: at(site, morning.subtract({ days: 1 }), USUAL_CLOSING),
    opens: at(site, morning, USUAL_OPENING),
    hoursKnown: false,
  };
};

/** The night that contains 03:00 of the date; a Sunday names the same night as the Monday after it. */
export const nightOf = (site: Site, date: string): NightSpan => {
  const night = nightOver(site, date);
  return night === null
    ? usualNight(site, date)
    : { date: localDate(site, night.opens), from: night.closed, opens: night.opens, hoursKnown: true };
};

/** The night that a person means in the morning, or at any time of the day after it. */
export const latestNight = (site: Site, now: EpochMillis): NightSpan => {
  const night = lastNight(site, now);
  if (night !== null)
    return { date: localDate(site, night.opens), from: night.closed, opens: night.opens, hoursKnown: true };
  const today = usualNight(site, localDate(site, now));
  return today.from < now
    ? today
    : usualNight(site, Temporal.PlainDate.from(today.date).subtract({ days: 1 }).toString());
};

/** What the lab was at an instant. */
export type SiteAt = (at: EpochMillis) => Site;

/** The night that contains 03:00 of the date, by the hours that held then. */
export const nightAsHeld = (siteAt: SiteAt, { timeZone }: Site, date: string): NightSpan => {
  const deepest = Temporal.PlainDate.from(date).toZonedDateTime({ timeZone, plainTime: NIGHT_DEEPEST });
  return nightOf(siteAt(epochMillis(deepest.epochMilliseconds)), date);
};

/** Every night whose opening lies in the month (`YYYY-MM`) and that has begun by now, oldest first. */
export const nightsOfMonth = (
  siteAt: SiteAt,
  site: Site,
  month: string,
  now: EpochMillis,
): readonly NightSpan[] => {
  const { daysInMonth, year, month: number } = Temporal.PlainYearMonth.from(month);
  const nights = new Map<string, NightSpan>();
  for (let day = 1; day <= daysInMonth; day += 1) {
    const night = nightAsHeld(siteAt, site, new Temporal.PlainDate(year, number, day).toString());
    // A weekend is found by each of its days and counted by its opening.
    if (night.date.startsWith(month) && night.from < now) nights.set(night.date, night);
  }
  return [...nights.values()].sort((first, second) => first.from - second.from);
};
