// How good the alarms of a span were: the key figures of ISA-18.2 / IEC 62682, counted from the history of alarms,
// each beside its target. Pure; the span and the history come from the caller.

import { stretchAt } from '../../../lab/calendar.ts';
import type { Site } from '../../../lab/lab.ts';
import {
  type EpochMillis,
  epochMillis,
  MILLIS_PER_DAY,
  MILLIS_PER_HOUR,
  MILLIS_PER_MINUTE,
  MILLIS_PER_SECOND,
} from '../../../wax/units.ts';
import type { Alarm, AlarmChange } from '../life/alarm.ts';
import { alarmHistory, type Announcement } from './announcements.ts';
import { type Contributor, contributors } from './contributors.ts';
import { type Flood, floods } from './floods.ts';
import { type HiddenByHand, findHiddenByHand, unauthorisedChanges } from './hidden-by-hand.ts';
import { localDays } from './local-days.ts';
import { findChattering, findFleeting, STALE_MILLIS, findStale } from './nuisance.ts';
import { BASIS_DAYS, QUALITY_TARGETS, type QualityFigureName } from './targets.ts';

export interface QualityFigure {
  readonly name: QualityFigureName;
  /** Null where there is nothing to count from. */
  readonly value: number | null;
  /** Null where there is no target or no value. */
  readonly holds: boolean | null;
}

export interface AlarmQuality {
  readonly days: number;
  /** The span is long enough for the standard's targets to mean something. */
  readonly isBasis: boolean;
  readonly announced: number;
  readonly figures: readonly QualityFigure[];
  readonly daily: readonly { readonly date: string; readonly count: number }[];
  readonly busiest: { readonly shift: number; readonly hour: number; readonly tenMinutes: number };
  readonly floods: readonly Flood[];
  readonly contributors: readonly Contributor[];
  readonly hidden: readonly HiddenByHand[];
}

export interface QualitySpan {
  readonly from: EpochMillis;
  readonly to: EpochMillis;
  readonly site: Site;
  /** Oldest first; may begin before the span, so that what stood at its start is known. */
  readonly changes: readonly AlarmChange[];
  /** Alarms that are not over. */
  readonly open: readonly Alarm[];
}

const TEN_MINUTES_MILLIS = 10 * MILLIS_PER_MINUTE;
const BUSY_HOUR = 30;
const BUSY_TEN_MINUTES = 10;

export function alarmQuality({ from, to, site, changes, open }: QualitySpan): AlarmQuality {
  const history = alarmHistory(
    changes.filter(({ at }) => at < to),
    open.filter(({ raisedAt }) => raisedAt < to),
  );
  const announced = history.announcements.filter(({ at }) => at >= from).sort((a, b) => a.at - b.at);
  const times = announced.map(({ at }) => at);
  const days = (to - from) / MILLIS_PER_DAY;
  const found = floods(times, to);
  const inFlood = found.reduce((sum, flood) => sum + flood.to - flood.from, 0);
  const chatters = findChattering(announced);
  const fleets = findFleeting(history.stays).filter((stay) => stay.to !== null && stay.to >= from);
  const stales = findStale(history.stays, from, to);
  const calendarDays = localDays(site.timeZone, from, to);
  const working = stretches(site, from, to, times);
  const hours = periods(from, to, times, MILLIS_PER_HOUR);
  const tens = periods(from, to, times, TEN_MINUTES_MILLIS);
  const answered = announced
    .flatMap(({ acknowledgedAt, at }) =>
      acknowledgedAt === null ? [] : [(acknowledgedAt - at) / MILLIS_PER_SECOND],
    )
    .sort((a, b) => a - b);
  const all = contributors(announced, chatters, fleets, stales);
  const topTen = all.slice(0, 10).reduce((sum, { count }) => sum + count, 0);
  const staleOn = calendarDays.map(
    (day) => stales.filter((stay) => stay.from + STALE_MILLIS < day.to && (stay.to ?? to) > day.from).length,
  );
  const share = (part: number): number | null => (announced.length === 0 ? null : part / announced.length);
  const ofPriority = (priority: Announcement['priority']): number | null =>
    share(announced.filter((announcement) => announcement.priority === priority).length);

  const values: Readonly<Record<QualityFigureName, number | null>> = {
    'per-day': announced.length / days,
    'per-ten-minutes': (announced.length * TEN_MINUTES_MILLIS) / (to - from),
    'per-shift': mean(working.open),
    'per-closed-stretch': mean(working.closed),
    'busy-hours': hours.filter((count) => count > BUSY_HOUR).length / hours.length,
    'busy-ten-minutes': tens.filter((count) => count > BUSY_TEN_MINUTES).length / tens.length,
    'time-in-flood': inFlood / (to - from),
    chattering: chatters.size,
    fleeting: fleets.length,
    'stale-on-a-day': highestOf(staleOn),
    'top-ten-share': share(topTen),
    'urgent-share': ofPriority('urgent'),
    'high-share': ofPriority('high'),
    'medium-share': ofPriority('medium'),
    'unauthorised-changes': unauthorisedChanges(changes, from, to),
    'acknowledged-median': quantile(answered, 0.5),
    'acknowledged-p90': quantile(answered, 0.9),
    'never-acknowledged': announced.length - answered.length,
  };
  return {
    days,
    isBasis: days >= BASIS_DAYS,
    announced: announced.length,
    figures: (Object.keys(QUALITY_TARGETS) as QualityFigureName[]).map((name) => ({
      name,
      value: values[name],
      holds: holds(values[name], QUALITY_TARGETS[name].atMost, (LEAST_PART[name] ?? 0) / announced.length),
    })),
    daily: calendarDays.map((day) => ({
      date: day.date,
      count: times.filter((at) => at >= day.from && at < day.to).length,
    })),
    busiest: { shift: highestOf(working.open), hour: highestOf(hours), tenMinutes: highestOf(tens) },
    floods: found,
    contributors: all,
    hidden: findHiddenByHand(changes, from, to),
  };
}

/** How many of the announcements a share has at least, once it has any: of so few that this is beyond the target, none can hold it. */
const LEAST_PART: Partial<Readonly<Record<QualityFigureName, number>>> = {
  'top-ten-share': 10,
  'urgent-share': 1,
  'high-share': 1,
  'medium-share': 1,
};

const holds = (value: number | null, atMost: number | null, least: number): boolean | null => {
  if (value === null || atMost === null) return null;
  return value > atMost && least > atMost ? null : value <= atMost;
};
const mean = (counts: readonly number[]): number | null =>
  counts.length === 0 ? null : counts.reduce((sum, count) => sum + count, 0) / counts.length;
const highestOf = (counts: readonly number[]): number =>
  counts.reduce((top, count) => Math.max(top, count), 0);

/** Nearest rank, so that it is a time that somebody really took. `sorted` upwards. */
export const quantile = (sorted: readonly number[], share: number): number | null =>
  sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)] ?? null;

/** Counts of periods one after the other from `from`; the last may be shorter. */
function periods(from: number, to: number, times: readonly number[], width: number): readonly number[] {
  const counts = new Array<number>(Math.ceil((to - from) / width)).fill(0);
  for (const at of times) {
    const index = Math.floor((at - from) / width);
    counts[index] = (counts[index] ?? 0) + 1;
  }
  return counts;
}

/** How many fell into each working span and into each time between, as far as they lie in the span. */
function stretches(site: Site, from: EpochMillis, to: EpochMillis, times: readonly EpochMillis[]) {
  const counts: { readonly open: number[]; readonly closed: number[] } = { open: [], closed: [] };
  let at = from;
  while (at < to) {
    const stretch = stretchAt(site, at);
    const end = epochMillis(Math.min(stretch.to ?? to, to));
    const start = at;
    counts[stretch.open ? 'open' : 'closed'].push(times.filter((time) => time >= start && time < end).length);
    at = end;
  }
  return counts;
}
