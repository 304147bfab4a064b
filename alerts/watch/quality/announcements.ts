// How alarms came, by their history: each time one needed attention, and how long each stood.
// Hidden alarms (shelved, suppressed, out of service) need nobody and are not counted, as IEC 62682 / ISA-18.2 count.

import type { EpochMillis } from '../../../wax/units.ts';
import { isHidden } from '../life/alarm-state.ts';
import type { Alarm, AlarmChange, AlarmChangeKind } from '../life/alarm.ts';
import type { Priority } from '../rule/priority.ts';
import type { RuleKind } from '../rules/all-rules.ts';

/** One time that an alarm needed attention. */
export interface Announcement {
  readonly at: EpochMillis;
  /** The same for every coming of one rule at one place. */
  readonly point: string;
  readonly rule: RuleKind;
  readonly subject: string;
  readonly priority: Priority;
  /** First acknowledgement after it, before it was raised again; null while there is none. */
  readonly acknowledgedAt: EpochMillis | null;
}

/** The condition of one alarm, from when it came true until it was over. */
export interface Stay {
  readonly point: string;
  readonly rule: RuleKind;
  readonly subject: string;
  readonly from: EpochMillis;
  /** Null: still so. */
  readonly to: EpochMillis | null;
  /** Somebody acknowledged it while it was so. */
  readonly wasAcknowledged: boolean;
  /** It was hidden when it began. */
  readonly wasHidden: boolean;
}

export interface AlarmHistory {
  readonly announcements: readonly Announcement[];
  readonly stays: readonly Stay[];
}

const ASKS: Readonly<Record<AlarmChangeKind, boolean>> = {
  raised: true,
  'raised-again': true,
  unshelved: true,
  unsuppressed: true,
  'returned-to-service': true,
  updated: false,
  cleared: false,
  acknowledged: false,
  reset: false,
  shelved: false,
  suppressed: false,
  'out-of-service': false,
  noted: false,
  learned: false,
};

interface Course {
  announced: { -readonly [K in keyof Announcement]: Announcement[K] } | null;
  stay: { -readonly [K in keyof Stay]: Stay[K] } | null;
}

const pointOf = ({ rule, subject }: Alarm): string => `${subject}.${rule}`;

/**
 * `changes` oldest first. An alarm whose beginning lies before them is taken to have begun when it was raised;
 * `open` brings those that did not change since.
 */
export function alarmHistory(changes: readonly AlarmChange[], open: readonly Alarm[] = []): AlarmHistory {
  const announcements: Announcement[] = [];
  const stays: Stay[] = [];
  const courses = new Map<string, Course>();
  const begin = (alarm: Alarm, from: EpochMillis): Course['stay'] => {
    const { rule, subject } = alarm;
    const stay = {
      point: pointOf(alarm),
      rule,
      subject,
      from,
      to: null,
      wasAcknowledged: alarm.acknowledged,
      wasHidden: isHidden(alarm),
    };
    stays.push(stay);
    return stay;
  };
  for (const { alarm, at, kind } of changes) {
    const earlier = courses.get(alarm.id);
    const course: Course = earlier ?? { announced: null, stay: null };
    courses.set(alarm.id, course);
    if (earlier === undefined && kind !== 'raised' && (alarm.active || kind === 'cleared'))
      course.stay = begin(alarm, alarm.raisedAt);
    if (alarm.active && course.stay === null) course.stay = begin(alarm, at);
    if (ASKS[kind] && alarm.active && !alarm.acknowledged && !isHidden(alarm)) {
      const { rule, subject, priority } = alarm;
      course.announced = { at, point: pointOf(alarm), rule, subject, priority, acknowledgedAt: null };
      announcements.push(course.announced);
    }
    if (kind === 'acknowledged') {
      if (course.announced !== null) course.announced.acknowledgedAt ??= at;
      if (course.stay !== null) course.stay.wasAcknowledged = true;
    }
    if (!alarm.active && course.stay !== null) {
      course.stay.to = at;
      course.stay = null;
    }
  }
  for (const alarm of open) if (alarm.active && !courses.has(alarm.id)) begin(alarm, alarm.raisedAt);
  return { announcements, stays };
}
