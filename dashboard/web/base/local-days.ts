import { iso } from '../../../wax/iso.ts';
// Days as `YYYY-MM-DD` and times of day in the lab's zone: the day of an instant, the next day, the instant of a clock. Pure.

const DAY_MILLIS = 86_400_000;

export const localDay = (at: number, timeZone: string): string => {
  const parts = new Intl.DateTimeFormat('en', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  }).formatToParts(at);
  const of = (type: string): string => parts.find((part) => part.type === type)?.value ?? '';
  return `${of('year')}-${of('month')}-${of('day')}`;
};

export const dayAfter = (day: string): string =>
  iso(Date.parse(`${day}T00:00:00Z`) + DAY_MILLIS).slice(0, 10);

/** `YYYY-MM`, by so many months. */
export const monthMoved = (month: string, by: number): string => {
  const [year = 0, number = 1] = month.split('-').map(Number);
  return iso(Date.UTC(year, number - 1 + by, 1)).slice(0, 7);
};

/** `2026-11` as people write it. */
export const formatMonth = (month: string, { locale }: { readonly locale: string }): string =>
  new Intl.DateTimeFormat(locale, { month: 'long', year: 'numeric', timeZone: 'UTC' }).format(
    new Date(`${month}-01T00:00:00Z`),
  );

/** What a clock in the zone shows at the instant, as if it were UTC. */
const readClockAt = (at: number, timeZone: string): number => {
  const text = new Intl.DateTimeFormat('sv-SE', { dateStyle: 'short', timeStyle: 'short', timeZone }).format(
    at,
  );
  return Date.parse(`${text.replace(' ', 'T')}:00Z`);
};

/**
 * The instant, epoch milliseconds, at which a clock in the zone shows `YYYY-MM-DDTHH:MM`; the earlier of two, and an hour
 * on where the clock leaps over it. Null for any other text.
 * @example instantShown('2031-07-04T09:00', 'Europe/Berlin') // Date.parse('2031-07-04T07:00:00Z')
 */
export const instantShown = (local: string, timeZone: string): number | null => {
  const wanted = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}$/.test(local) ? Date.parse(`${local}:00Z`) : Number.NaN;
  if (Number.isNaN(wanted)) return null;
  const minute = wanted - (wanted % 60_000);
  // Offsets of the day before and the day after hold every one that can be meant.
  const offsets = [minute - DAY_MILLIS, minute + DAY_MILLIS].map((at) => readClockAt(at, timeZone) - at);
  const candidates = offsets.map((offset) => minute - offset).sort((earlier, later) => earlier - later);
  return candidates.find((at) => readClockAt(at, timeZone) === minute) ?? candidates.at(-1) ?? null;
};
