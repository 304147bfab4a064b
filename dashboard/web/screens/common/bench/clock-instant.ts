// Times of day as a person enters them, in the lab's zone: the instant that is meant by one, and one that is near. Pure.

const MINUTE_MILLIS = 60_000;
const HOUR_MILLIS = 3_600_000;
const MINUTES_PER_DAY = 1440;

/** `HH:MM` of a clock in the lab, as an entry for times holds it. */
export const clockAt = (at: number, timeZone: string): string =>
  new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit', hourCycle: 'h23', timeZone }).format(
    at,
  );

/** Minutes since midnight of `HH:MM`; null for anything else. */
const minutesOf = (clock: string): number | null => {
  const [, hours, minutes] = /^(\d{2}):(\d{2})$/.exec(clock) ?? [];
  return hours === undefined ? null : Number(hours) * 60 + Number(minutes);
};

/**
 * The next instant, epoch milliseconds, at which a clock in the lab shows `HH:MM`; null for what is no time of day.
 * @example nextInstantOf('06:30', Date.parse('2026-03-04T16:00:00Z'), 'Europe/Berlin') // 2026-03-05T05:30:00Z
 */
export const nextInstantOf = (clock: string, now: number, timeZone: string): number | null => {
  const minutes = minutesOf(clock);
  if (minutes === null) return null;
  const start = Math.floor(now / MINUTE_MILLIS) * MINUTE_MILLIS;
  const ahead = (at: number): number =>
    (minutes - (minutesOf(clockAt(at, timeZone)) ?? 0) + MINUTES_PER_DAY) % MINUTES_PER_DAY;
  const found = start + (ahead(start) || MINUTES_PER_DAY) * MINUTE_MILLIS;
  // The clocks may change on the way.
  const off = ahead(found);
  return found + (off > MINUTES_PER_DAY / 2 ? off - MINUTES_PER_DAY : off) * MINUTE_MILLIS;
};

/** The full hour after the next, for somebody who stays a while. */
export const laterHour = (now: number): number => (Math.floor(now / HOUR_MILLIS) + 2) * HOUR_MILLIS;
