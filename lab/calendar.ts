// When the lab is open, and what a night is, in the site's own zone with its clock changes. Pure over instants:
// what is remembered between calls is only what was worked out for the same site.

import { Temporal } from 'temporal-polyfill';
import { type EpochMillis, epochMillis, MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../wax/units.ts';
import { type Site, WEEKDAYS } from './lab.ts';

/** The longest span of one kind, open or closed, around an instant; null where it has no end within a year. */
export interface Stretch {
  readonly open: boolean;
  readonly from: EpochMillis | null;
  readonly to: EpochMillis | null;
}

export interface OpenSpan {
  readonly opens: EpochMillis;
  readonly closes: EpochMillis;
}

/** A closed stretch over 03:00 local time; weekends and holidays are part of the night in which they lie. */
export interface Night {
  readonly closed: EpochMillis;
  readonly opens: EpochMillis;
}

/** Days looked at on either side, tried in turn; a lab that is closed for longer has no next opening. */
const REACHES = [3, 12, 50, 400] as const;
/** Nobody works at this hour who does not work all night, and a lunch break never reaches it. */
const NIGHT_HOUR = 3;
const DAYS_REMEMBERED = 1000;
const STRETCHES_REMEMBERED = 16;

interface Memory {
  readonly holidays: ReadonlySet<string>;
  readonly days: Map<string, readonly OpenSpan[]>;
  /** Newest first: live readings and late ones are looked up in turn. */
  readonly stretches: Stretch[];
  /** The newest minute that was looked up, counted since 1970, and what the clock of the lab shows in it. */
  minute: { readonly since1970: number; readonly ofDay: number } | null;
}
const memories = new WeakMap<Site, Memory>();

function memoryOf(site: Site): Memory {
  let memory = memories.get(site);
  if (memory === undefined) {
    memory = { holidays: new Set(site.holidays), days: new Map(), stretches: [], minute: null };
    memories.set(site, memory);
  }
  return memory;
}

/** The day of an instant by the lab's calendar. */
export const dateAt = (site: Site, at: number): Temporal.PlainDate =>
  Temporal.Instant.fromEpochMilliseconds(Math.floor(at)).toZonedDateTimeISO(site.timeZone).toPlainDate();

export interface LocalDay {
  /** `YYYY-MM-DD` */
  readonly date: string;
  readonly from: EpochMillis;
  /** Exclusive. */
  readonly to: EpochMillis;
}

/** The whole day in which an instant lies; 23 or 25 hours where the clock changes. */
export const dayAt = (site: Site, at: number): LocalDay => {
  const date = dateAt(site, at);
  const start = (day: Temporal.PlainDate): EpochMillis =>
    epochMillis(day.toZonedDateTime({ timeZone: site.timeZone }).epochMilliseconds);
  return { date: date.toString(), from: start(date), to: start(date.add({ days: 1 })) };
};

/** `YYYY-MM-DD` */
export const isoDayAt = (site: Site, at: number): string => dateAt(site, at).toString();

/** Minutes since local midnight; the clock changes make a day of 23 or 25 hours, and the hands go by it. */
export const minuteOfDay = (site: Site, at: number): number => {
  const memory = memoryOf(site);
  // Since 1972 zones differ from UTC by whole minutes, so all instants of a minute show the same.
  const since1970 = Math.floor(at / MILLIS_PER_MINUTE);
  if (memory.minute?.since1970 === since1970) return memory.minute.ofDay;
  const { hour, minute } = Temporal.Instant.fromEpochMilliseconds(Math.floor(at)).toZonedDateTimeISO(
    site.timeZone,
  );
  const ofDay = 60 * hour + minute;
  memory.minute = { since1970, ofDay };
  return ofDay;
};

/** A time that the clocks skip counts as the instant after the skip; one that comes twice as the first. */
function instantOf(site: Site, date: Temporal.PlainDate, time: string): EpochMillis {
  const [day, plainTime] = time === '24:00' ? [date.add({ days: 1 }), '00:00'] : [date, time];
  return day.toZonedDateTime({ timeZone: site.timeZone, plainTime }).epochMilliseconds as EpochMillis;
}

function spansOn(site: Site, date: Temporal.PlainDate): readonly OpenSpan[] {
  const { days, holidays } = memoryOf(site);
  const key = date.toString();
  const computed = days.get(key);
  if (computed !== undefined) return computed;
  const weekday = WEEKDAYS[date.dayOfWeek - 1] ?? 'mon';
  const spans = holidays.has(key)
    ? []
    : site.workingHours[weekday]
        .map(([opens, closes]) => ({
          opens: instantOf(site, date, opens),
          closes: instantOf(site, date, closes),
        }))
        .filter(({ opens, closes }) => opens < closes);
  if (days.size >= DAYS_REMEMBERED) days.clear();
  days.set(key, spans);
  return spans;
}

/** Spans of all days from `reach` before to `reach` after, those that touch joined. */
function spansAround(site: Site, date: Temporal.PlainDate, reach: number): readonly OpenSpan[] {
  const spans: OpenSpan[] = [];
  for (let offset = -reach; offset <= reach; offset += 1)
    spans.push(...spansOn(site, date.add({ days: offset })));
  spans.sort((a, b) => a.opens - b.opens);
  const joined: OpenSpan[] = [];
  for (const span of spans) {
    const before = joined.at(-1);
    if (before !== undefined && span.opens <= before.closes)
      joined[joined.length - 1] = {
        opens: before.opens,
        closes: Math.max(before.closes, span.closes) as EpochMillis,
      };
    else joined.push(span);
  }
  return joined;
}

const contains = (stretch: Stretch, at: number): boolean =>
  (stretch.from === null || stretch.from <= at) && (stretch.to === null || at < stretch.to);

/** The open or closed stretch that the instant lies in. Cheap when called again within the same stretch. */
export function stretchAt(site: Site, at: EpochMillis): Stretch {
  const { stretches } = memoryOf(site);
  for (const computed of stretches) if (contains(computed, at)) return computed;
  const date = dateAt(site, at);
  let stretch: Stretch = { open: false, from: null, to: null };
  for (const reach of REACHES) {
    const spans = spansAround(site, date, reach);
    const inside = spans.find(({ opens, closes }) => opens <= at && at < closes);
    if (inside !== undefined) {
      // A span that reaches the edge of what was looked at may go on behind it.
      const edge = reach === REACHES.at(-1) ? null : undefined;
      const from = inside === spans[0] ? edge : inside.opens;
      const to = inside === spans.at(-1) ? edge : inside.closes;
      if (from === undefined || to === undefined) continue;
      stretch = { open: true, from, to };
      break;
    }
    const from = spans.findLast(({ closes }) => closes <= at)?.closes ?? null;
    const to = spans.find(({ opens }) => opens > at)?.opens ?? null;
    stretch = { open: false, from, to };
    if (from !== null && to !== null) break;
  }
  stretches.unshift(stretch);
  if (stretches.length > STRETCHES_REMEMBERED) stretches.pop();
  return stretch;
}

export const isOpen = (site: Site, at: EpochMillis): boolean => stretchAt(site, at).open;

/** A longer break is one in which people go home. Common practice. */
const LONGEST_BREAK_MILLIS = 2 * MILLIS_PER_HOUR;

/** A break of up to two hours within one day, as for lunch: closed, but people are near. */
export function isShortBreak(site: Site, at: EpochMillis): boolean {
  const { open, from, to } = stretchAt(site, at);
  if (open || from === null || to === null || to - from > LONGEST_BREAK_MILLIS) return false;
  return dateAt(site, from).equals(dateAt(site, to));
}

/** The first opening after the instant; null when the lab has no working hours within the next year. */
export function nextOpening(site: Site, at: EpochMillis): EpochMillis | null {
  const { open, to } = stretchAt(site, at);
  if (!open || to === null) return to;
  return stretchAt(site, to).to;
}

/** The night that contains 03:00 of the date (`YYYY-MM-DD`); null when the lab works then or has no hours set. */
export function nightOver(site: Site, date: string): Night | null {
  const hour = instantOf(site, Temporal.PlainDate.from(date), `0${NIGHT_HOUR}:00`);
  const { open, from, to } = stretchAt(site, hour);
  return open || from === null || to === null ? null : { closed: from, opens: to };
}

/**
 * The latest night whose first 03:00 has passed: in the morning the one that ends now or just ended, in the
 * evening still that of the morning. Null when there was none within a year.
 */
export function lastNight(site: Site, at: EpochMillis): Night | null {
  let date = dateAt(site, at);
  if (instantOf(site, date, `0${NIGHT_HOUR}:00`) > at) date = date.subtract({ days: 1 });
  for (let back = 0; back < 366; back += 1) {
    const night = nightOver(site, date.subtract({ days: back }).toString());
    if (night !== null) return night;
  }
  return null;
}
