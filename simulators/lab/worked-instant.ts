// When somebody of a lab did something: within its working hours, however long ago.

import { dayOf, type SimulatedSite } from './site-hours.ts';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;

/** So long before now, this morning, or so long after the opening of one of the days worked before. */
export type WorkedAt =
  | { readonly minutesAgo: number }
  | { readonly daysWorkedAgo: number; readonly hoursOpen: number };

/** Epoch milliseconds. The site must be worked on some day of the week. */
export const workedInstant = (site: SimulatedSite, now: number, done: WorkedAt): number => {
  if ('minutesAgo' in done) return now - done.minutesAgo * MINUTE;
  let day = dayOf(site, now);
  for (let left = done.daysWorkedAgo; left > 0; left -= day.work === null ? 0 : 1)
    day = dayOf(site, day.start - HOUR);
  return (day.work?.opens ?? day.start) + done.hoursOpen * HOUR;
};
