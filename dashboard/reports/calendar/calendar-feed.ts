// Duty and patterns due as an iCalendar feed (RFC 5545), for the calendars of telephones and desks. Every event keeps its
// UID, so that a calendar replaces it when it changes. No case reference is in it: a feed may be stored by a service far
// from the lab.

import ical, { ICalCalendarMethod, ICalEventTransparency } from 'ical-generator';
import { dutyTurns } from '../../../alerts/notices/duty/duty-turns.ts';
import { notificationPlanOf } from '../../../lab/notification-plan.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { Say } from '../../../words/load-languages.ts';
import type { RunningLab } from '../../queries/running-lab.ts';

/** Past events stay for a while, so that a calendar that refreshes rarely still shows them. */
const PAST_MILLIS = 7 * MILLIS_PER_DAY;
const AHEAD_MILLIS = 12 * 7 * MILLIS_PER_DAY;
/** How long a due pattern is drawn. */
const DUE_MILLIS = 15 * MILLIS_PER_MINUTE;
/** How often a calendar should refresh; many refresh less often. */
const LOOK_AGAIN_SECONDS = 15 * 60;

interface FeedEvent {
  readonly id: string;
  readonly from: EpochMillis;
  readonly to: EpochMillis;
  readonly summary: string;
  readonly description: string;
}

const dutyEvents = (running: RunningLab, say: Say): readonly FeedEvent[] => {
  const lab = running.lab();
  const now = running.now();
  const [from, to] = [epochMillis(now - PAST_MILLIS), epochMillis(now + AHEAD_MILLIS)];
  return dutyTurns(notificationPlanOf(lab), lab, from, to).map((turn) => ({
    id: `duty-${turn.from}`,
    from: turn.from,
    to: turn.to,
    summary: say('calendar.duty', { name: lab.people.find(({ id }) => id === turn.person)?.name ?? '–' }),
    description: say('calendar.duty-explain'),
  }));
};

const dueEvents = (running: RunningLab, say: Say): readonly FeedEvent[] => {
  const lab = running.lab();
  return lab.patterns.flatMap(({ id, stays }) => {
    const dueAt = running.patternOutlook?.(id)?.verdict.dueAt ?? null;
    if (dueAt === null) return [];
    const station = stays.at(-1)?.station;
    const place = lab.stations.find((each) => each.id === station)?.name ?? '–';
    return [
      {
        id: `pattern-${id}`,
        from: epochMillis(dueAt),
        to: epochMillis(dueAt + DUE_MILLIS),
        summary: say('calendar.due', { pattern: id, place }),
        description: say('calendar.due-explain'),
      },
    ];
  });
};

/** @returns the text of the feed; times are in UTC, which every calendar shows in its own zone */
export const calendarFeed = (running: RunningLab, say: Say): string => {
  const { site } = running.lab();
  const calendar = ical({
    name: say('calendar.name', { lab: site.name }),
    prodId: { company: 'Waxwarden', product: 'Waxwarden' },
    method: ICalCalendarMethod.PUBLISH,
    ttl: LOOK_AGAIN_SECONDS,
  });
  for (const { id, from, to, summary, description } of [
    ...dutyEvents(running, say),
    ...dueEvents(running, say),
  ])
    calendar.createEvent({
      id: `${id}@${site.id}.waxwarden`,
      start: new Date(from),
      end: new Date(to),
      stamp: new Date(running.now()),
      summary,
      description,
      // Neither marks a person as busy.
      transparency: ICalEventTransparency.TRANSPARENT,
    });
  return calendar.toString();
};
