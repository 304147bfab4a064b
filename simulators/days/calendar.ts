// The days of a case by the lab's own clock: worked or free, opening, closing and pauses as instants.

import { Temporal } from 'temporal-polyfill';

export const MINUTE = 60_000;
export const HOUR = 60 * MINUTE;
export const DAY = 24 * HOUR;

const DAY_NAMES = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'] as const;

export interface LabHours {
  readonly timeZone: string;
  readonly days: readonly string[];
  readonly from: string;
  readonly to: string;
  readonly pauses: readonly (readonly [string, string])[];
}

export interface Work {
  readonly opens: number;
  readonly closes: number;
  readonly pauses: readonly { readonly from: number; readonly to: number }[];
}

export interface CalendarDay {
  readonly date: string;
  readonly start: number;
  readonly end: number;
  /** By the hours; null on a free day. */
  readonly hours: Work | null;
  /** As it was: null on a free day and on a holiday. */
  readonly work: Work | null;
}

/** Instant of a clock time (`HH:MM`) on a day. */
export const clockTime = (hours: LabHours, date: string, time: string): number =>
  Temporal.PlainDate.from(date).toZonedDateTime({
    timeZone: hours.timeZone,
    plainTime: Temporal.PlainTime.from(time),
  }).epochMilliseconds;

export const nextDate = (date: string, days: number): string =>
  Temporal.PlainDate.from(date).add({ days }).toString();

/** 1 for Monday to 7 for Sunday. */
export const weekday = (date: string): number => Temporal.PlainDate.from(date).dayOfWeek;

/** `days` days from `date` on. */
export const calendar = (
  hours: LabHours,
  date: string,
  days: number,
  holidays: readonly string[],
): readonly CalendarDay[] =>
  Array.from({ length: days }, (_, index) => {
    const day = nextDate(date, index);
    const instant = (time: string) => clockTime(hours, day, time);
    const isOpen = hours.days.includes(DAY_NAMES[weekday(day) - 1] ?? '');
    const work: Work | null = isOpen
      ? {
          opens: instant(hours.from),
          closes: instant(hours.to),
          pauses: hours.pauses.map(([from, to]) => ({ from: instant(from), to: instant(to) })),
        }
      : null;
    return {
      date: day,
      start: instant('00:00'),
      end: clockTime(hours, nextDate(day, 1), '00:00'),
      hours: work,
      work: holidays.includes(day) ? null : work,
    };
  });

/** Whether an instant lies between opening and closing of a day by the hours. */
export const isInHours = (days: readonly CalendarDay[], at: number): boolean =>
  days.some(({ hours }) => hours !== null && at >= hours.opens && at < hours.closes);
