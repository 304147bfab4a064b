// When the lab works, by its own clock. Returns the day's open spans and the hour of day as instants; the shapes
// are those of the lab file, written down here a second time.

import { Temporal } from 'temporal-polyfill';

export const DAY_NAMES = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
export type DayName = (typeof DAY_NAMES)[number];
export type Hours = Readonly<Record<DayName, readonly (readonly [opens: string, closes: string])[]>>;

export interface SimulatedSite {
  readonly id: string;
  readonly timeZone: string;
  readonly workingHours: Hours;
  readonly holidays: readonly string[];
}

export interface SimulatedDay {
  /** `YYYY-MM-DD` by the site's clock. */
  readonly date: string;
  readonly start: number;
  readonly end: number;
  /** First opening and last closing; null on a closed day. */
  readonly work: { readonly opens: number; readonly closes: number } | null;
}

export const dayOf = (site: SimulatedSite, at: number): SimulatedDay => {
  const date = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(site.timeZone).toPlainDate();
  const instant = (day: Temporal.PlainDate, time = '00:00'): number =>
    day.toZonedDateTime({ timeZone: site.timeZone, plainTime: Temporal.PlainTime.from(time) })
      .epochMilliseconds;
  const name = DAY_NAMES[date.dayOfWeek - 1] ?? 'mon';
  const spans = site.holidays.includes(date.toString()) ? [] : site.workingHours[name];
  const first = spans[0];
  const last = spans[spans.length - 1];
  return {
    date: date.toString(),
    start: instant(date),
    end: instant(date.add({ days: 1 })),
    work: first && last ? { opens: instant(date, first[0]), closes: instant(date, last[1]) } : null,
  };
};
