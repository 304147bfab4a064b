// When the night sheet goes out by e-mail: at the opening, or at a set time of the lab's clock that is not before it.
// Pure over the calendar; a sheet whose morning has long passed is not sent any more.

import { Temporal } from 'temporal-polyfill';
import type { Site } from '../../../lab/lab.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_HOUR } from '../../../wax/units.ts';
import { latestNight, type NightSpan, nightOf } from './night-span.ts';

/** `off`, `opening`, or a wall-clock time as `HH:MM`. */
export type MailTime = string;

/** A sheet that is later than this is no longer news. */
const STALE_MILLIS = 12 * MILLIS_PER_HOUR;

const postInstant = (site: Site, span: NightSpan, time: MailTime): EpochMillis | null => {
  if (time === 'off') return null;
  if (time === 'opening') return span.opens;
  const at = Temporal.PlainDate.from(span.date).toZonedDateTime({
    timeZone: site.timeZone,
    plainTime: time,
  }).epochMilliseconds;
  return epochMillis(Math.max(span.opens, at));
};

/** The night whose sheet is due now; null when none is. */
export const nightToMail = (site: Site, time: MailTime, now: EpochMillis): NightSpan | null => {
  const latest = latestNight(site, now);
  // Before the opening the latest night is the one that lasts; the one before it may still be due.
  const before = nightOf(
    site,
    new Date(Date.parse(`${latest.date}T00:00:00Z`) - 86_400_000).toISOString().slice(0, 10),
  );
  return (
    [latest, before].find((span) => {
      const due = postInstant(site, span, time);
      return due !== null && due <= now && now - due < STALE_MILLIS;
    }) ?? null
  );
};
