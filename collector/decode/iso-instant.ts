// Instants as text: RFC 3339, and of ISO 8601 what devices send besides (zones without a colon, no seconds, no zone).

import { MILLIS_PER_SECOND } from '../../wax/units.ts';

const INSTANT =
  /^(\d{4}-\d{2}-\d{2})[Tt ](\d{2}:\d{2})(?::(\d{2})(?:[.,](\d+))?)?(?: ?(?:([Zz])|([+-]\d{2})(?::?(\d{2}))?))?$/;
/** RFC 3339, 5.7: a leap second is the sixtieth; Unix time counts it as the first of the next minute. */
const LEAP_SECOND = '60';
const LEAP_MINUTE = /:59$/;

/**
 * Unix milliseconds; NaN where the text is no instant. Without a zone the text is read in that of this machine.
 * @example isoMillis('2026-06-01T10:00:00.5+02:00') // Date.UTC(2026, 5, 1, 8, 0, 0, 500)
 */
export function isoMillis(text: string): number {
  const [, date = '', minute = '', second = '00', fraction = '0', zulu, hours, minutes = '00'] =
    INSTANT.exec(text.trim()) ?? [];
  const isLeap = second === LEAP_SECOND && LEAP_MINUTE.test(minute);
  const zone = zulu !== undefined ? 'Z' : hours === undefined ? '' : `${hours}:${minutes}`;
  const whole = Date.parse(`${date}T${minute}:${isLeap ? '59' : second}${zone}`);
  // A day that its month does not have would be taken for one of the next month.
  if (!isDay(date)) return Number.NaN;
  return whole + (isLeap ? MILLIS_PER_SECOND : 0) + Number(`0.${fraction}`) * MILLIS_PER_SECOND;
}

function isDay(date: string): boolean {
  const midnight = Date.parse(`${date}T00:00:00Z`);
  return Number.isFinite(midnight) && new Date(midnight).toISOString().startsWith(date);
}
