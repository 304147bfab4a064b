// Days and times of day as a person writes them in the language of the screen, whatever the browser's own is; between
// the form and the wire they are `YYYY-MM-DD` and `HH:MM`. Pure.

import type { Reader } from '../base/format.ts';

type Language = Pick<Reader, 'locale'>;
type Clock = Pick<Reader, 'locale' | 'hourCycle'>;

const MONTHS = Array.from({ length: 12 }, (_, index) => index);

const monthNames = (locale: string): readonly string[] => {
  const format = new Intl.DateTimeFormat(locale, { month: 'long', timeZone: 'UTC' });
  return MONTHS.map((month) => format.format(Date.UTC(2030, month, 1)).toLowerCase());
};

/** The month, 1 to 12, by three letters or more of its name; null for any other word. */
const monthOf = (word: string, locale: string): number | null => {
  if (word.length < 3) return null;
  const at = monthNames(locale).findIndex((name) => name.startsWith(word));
  return at < 0 ? null : at + 1;
};

/** Whether the language writes the day before the month in figures. */
const isDayFirst = (locale: string): boolean => {
  const parts = new Intl.DateTimeFormat(locale, { day: 'numeric', month: 'numeric' }).formatToParts(0);
  return parts.find(({ type }) => type === 'day' || type === 'month')?.type === 'day';
};

const dayOf = (year: number, month: number, day: number): string | null => {
  const date = new Date(Date.UTC(year, month - 1, day));
  const isReal = date.getUTCMonth() === month - 1 && date.getUTCDate() === day && year > 1900;
  return isReal ? date.toISOString().slice(0, 10) : null;
};

/**
 * A day as the language writes it; empty text for none.
 * @example writeDay('2031-03-04', { locale: 'de-DE' }) // '04.03.2031'
 */
export const writeDay = (day: string, { locale }: Language): string =>
  day === '' || Number.isNaN(Date.parse(day))
    ? ''
    : new Intl.DateTimeFormat(locale, { dateStyle: 'medium', timeZone: 'UTC' }).format(Date.parse(day));

/**
 * The day that was written, `YYYY-MM-DD`; null for what is none. A year of two figures is of this century.
 * @example readDay('4. März 2031', { locale: 'de-DE' }) // '2031-03-04'
 */
export const readDay = (text: string, { locale }: Language): string | null => {
  const [first = '', second = '', third = '', ...more] =
    text
      .trim()
      .toLowerCase()
      .match(/\d+|\p{L}+/gu) ?? [];
  if (third === '' || more.length > 0) return null;
  const whole = (part: string): number => (/^\d+$/.test(part) ? Number(part) : Number.NaN);
  if (/^\d{4}$/.test(first)) return dayOf(Number(first), whole(second), whole(third));
  const year = /^\d{2}$/.test(third) ? 2000 + Number(third) : whole(third);
  const [byFirst, bySecond] = [monthOf(first, locale), monthOf(second, locale)];
  if (bySecond !== null) return dayOf(year, bySecond, whole(first));
  if (byFirst !== null) return dayOf(year, byFirst, whole(second));
  return isDayFirst(locale)
    ? dayOf(year, whole(second), whole(first))
    : dayOf(year, whole(first), whole(second));
};

/**
 * A time of day in the clock of the reader; empty text for none.
 * @example writeClock('17:30', { locale: 'en-GB', hourCycle: 'h12' }) // '5:30 pm'
 */
export const writeClock = (clock: string, { locale, hourCycle }: Clock): string => {
  const [, hours, minutes] = /^(\d{2}):(\d{2})$/.exec(clock) ?? [];
  if (hours === undefined || minutes === undefined) return '';
  return new Intl.DateTimeFormat(locale, {
    hour: hourCycle === 'h12' ? 'numeric' : '2-digit',
    minute: '2-digit',
    hourCycle,
    timeZone: 'UTC',
  })
    .format(Date.UTC(2030, 0, 1, Number(hours), Number(minutes)))
    .replaceAll(/\s/g, ' ');
};

/**
 * The time of day that was written, `HH:MM`; null for what is none. Colon and point may be left out.
 * @example readClock('5.30 pm') // '17:30'
 */
export const readClock = (text: string): string | null => {
  const [, hoursText, minutesText = '00', half = ''] =
    /^(\d{1,2}?)(?:[:.]?(\d{2}))?\s*(am|pm|uhr|h)?$/.exec(text.trim().toLowerCase().replaceAll('.m.', 'm')) ??
    [];
  if (hoursText === undefined) return null;
  const [hours, minutes] = [Number(hoursText), Number(minutesText)];
  const isHalf = half === 'am' || half === 'pm';
  if (minutes > 59 || hours > 23 || (isHalf && (hours < 1 || hours > 12))) return null;
  const whole = isHalf ? (hours % 12) + (half === 'pm' ? 12 : 0) : hours;
  return `${String(whole).padStart(2, '0')}:${String(minutes).padStart(2, '0')}`;
};
