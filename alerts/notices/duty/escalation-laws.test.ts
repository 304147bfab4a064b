// Laws of escalation over any plan, in the days round a clock change, however time is cut into ticks.

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isOpen } from '../../../lab/calendar.ts';
import type { Lab } from '../../../lab/lab.ts';
import { notificationPlanOf } from '../../../lab/notification-plan.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import { at, labWith } from '../../../tests/duty-for-tests.ts';
import { alarmStep, normalAlarm } from '../../watch/life/alarm-step.ts';
import type { Alarm, AlarmChange } from '../../watch/life/alarm.ts';
import { ESCALATION_START, type EscalationState, escalationStep, type Notice } from './escalation.ts';
import { isAbsent } from './on-duty.ts';
import { mayNotify } from './recipients.ts';

const PEOPLE = labWith({}).people.map(({ id }) => id);
const CLOCK_CHANGES = [
  '2031-03-30T01:00:00Z',
  '2031-10-26T01:00:00Z',
  '2031-03-09T07:00:00Z',
  '2031-04-05T15:00:00Z',
];

const day = fc
  .tuple(fc.constantFrom(...CLOCK_CHANGES), fc.integer({ min: -9, max: 9 }))
  .map(([change, days]) => new Date(at(change) + days * MILLIS_PER_DAY).toISOString().slice(0, 10));
const clock = fc
  .tuple(fc.integer({ min: 0, max: 23 }), fc.integer({ min: 0, max: 59 }))
  .map((parts) => parts.map((part) => String(part).padStart(2, '0')).join(':'));
const absence = fc
  .tuple(fc.constantFrom(...PEOPLE), day, day)
  .map(([person, left, right]) =>
    left < right ? { person, from: left, to: right } : { person, from: right, to: left },
  );
const step = fc.record({
  afterMinutes: fc.integer({ min: 0, max: 600 }),
  who: fc.constantFrom('on-duty', 'next', 'managers'),
});
const lab: fc.Arbitrary<Lab> = fc
  .record({
    zone: fc.constantFrom('Europe/Berlin', 'America/New_York', 'Australia/Lord_Howe', 'UTC'),
    holidays: fc.uniqueArray(day, { maxLength: 4 }),
    rota: fc.option(
      fc.record({
        people: fc.shuffledSubarray(PEOPLE, { minLength: 1 }),
        startsOn: day,
        handoverTime: clock,
      }),
    ),
    absences: fc.array(absence, { maxLength: 4 }),
    later: fc.array(step, { maxLength: 4 }),
    first: fc.constantFrom('on-duty', 'next', 'managers'),
  })
  .map(({ zone, holidays, rota, absences, later, first }) => {
    const escalation = [
      { afterMinutes: 0, who: first },
      ...later.sort((left, right) => left.afterMinutes - right.afterMinutes),
    ];
    const made = labWith({ rota, absences, escalation });
    return { ...made, site: { ...made.site, timeZone: zone, holidays } };
  });
const raised = fc
  .record({
    change: fc.constantFrom(...CLOCK_CHANGES),
    minutes: fc.integer({ min: -3 * 1440, max: 3 * 1440 }),
    priority: fc.constantFrom<Alarm['priority']>('urgent', 'high', 'medium', 'low'),
  })
  .map(({ change, minutes, priority }) => {
    const when = epochMillis(at(change) + minutes * MILLIS_PER_MINUTE);
    const identity = { rule: 'over-ceiling', subject: 'pot-1', subjectKind: 'station' } as const;
    return alarmStep(normalAlarm({ ...identity, priority, latches: false }, when), {
      type: 'begins',
      at: when,
      tense: 'now',
      evidence: {},
    });
  });
const pauses = fc.array(fc.integer({ min: 1, max: 400 }), { minLength: 5, maxLength: 40 });

interface Instant {
  readonly at: EpochMillis;
  readonly state: EscalationState;
  readonly notices: readonly Notice[];
}
/** What was done at the raising and at each tick after it. */
function escalated(
  where: Lab,
  { alarm, changes }: ReturnType<typeof alarmStep>,
  minutes: readonly number[],
): readonly Instant[] {
  const [change] = changes;
  if (change === undefined) throw new Error('nothing was raised');
  let when = change.at;
  let { state, notices } = escalationStep(
    ESCALATION_START,
    { kind: 'change', change, learnedAt: when },
    where,
  );
  const done: Instant[] = [{ at: when, state, notices }];
  for (const pause of minutes) {
    when = epochMillis(when + pause * MILLIS_PER_MINUTE);
    ({ state, notices } = escalationStep(state, { kind: 'tick', at: when }, where));
    done.push({ at: when, state, notices });
  }
  expect(done.at(-1)?.state.open[alarm.id]).toBeDefined();
  return done;
}

describe('escalation over any plan round a clock change', () => {
  it('notifies of an alarm that wakes in the instant in which it is raised, and of another not before the lab opens', () => {
    fc.assert(
      fc.property(lab, raised, pauses, (where, alarm, minutes) => {
        let sent = 0;
        const wakes = notificationPlanOf(where).outsideHours.some(
          (priority) => priority === alarm.alarm.priority,
        );
        for (const { at: when, state, notices } of escalated(where, alarm, minutes)) {
          const open = state.open[alarm.alarm.id];
          if (wakes) expect(open?.since).toBe(alarm.alarm.raisedAt);
          else expect(isOpen(where.site, open?.since ?? when)).toBe(true);
          expect(notices.length === 0 || when >= (open?.since ?? 0)).toBe(true);
          // From the first instant on at which somebody may count as notified, and nobody is notified at another.
          sent += notices.length;
          const may = mayNotify(alarm.alarm, notificationPlanOf(where), where, when);
          if (when >= (open?.since ?? 0) && may) expect(sent).toBeGreaterThan(0);
          if (!may) expect(notices).toEqual([]);
        }
      }),
    );
  });

  it('has done at each tick exactly the steps whose minutes had passed when people last might be notified, clock change or not', () => {
    fc.assert(
      fc.property(lab, raised, pauses, (where, alarm, minutes) => {
        const plan = notificationPlanOf(where);
        let done = 0;
        for (const { at: when, state } of escalated(where, alarm, minutes)) {
          const { since = when, steps } = state.open[alarm.alarm.id] ?? {};
          const due = plan.escalation.filter(
            ({ afterMinutes }) => when - since >= afterMinutes * MILLIS_PER_MINUTE,
          );
          if (mayNotify(alarm.alarm, plan, where, when)) done = due.length;
          expect(steps).toBe(done);
        }
      }),
    );
  });

  it('notifies nobody who is absent, unless every manager is or they were notified before they left', () => {
    fc.assert(
      fc.property(lab, raised, pauses, (where, alarm, minutes) => {
        const plan = notificationPlanOf(where);
        const before = new Set<string>();
        for (const { at: when, notices } of escalated(where, alarm, minutes))
          for (const person of notices.flatMap(({ people }) => people)) {
            const everyManagerIsAway = where.people.every(
              ({ id, role }) => role !== 'manager' || isAbsent(plan, where, id, when),
            );
            expect(before.has(person) || everyManagerIsAway || !isAbsent(plan, where, person, when)).toBe(
              true,
            );
            before.add(person);
          }
      }),
    );
  });

  it('gives every notice a key of its own, and sends the end of an alarm once to all who were notified and then nothing', () => {
    fc.assert(
      fc.property(lab, raised, pauses, pauses, (where, alarm, minutes, after) => {
        const done = escalated(where, alarm, minutes);
        const notices = done.flatMap((step) => step.notices);
        expect(new Set(notices.map(({ key }) => key)).size).toBe(notices.length);
        const last = done.at(-1);
        if (last === undefined) throw new Error('nothing was done');
        const [change] = alarmStep(alarm.alarm, {
          type: 'act',
          at: last.at,
          act: { type: 'acknowledge', alarm: alarm.alarm.id, by: 'Tom' },
        }).changes as readonly [AlarmChange];
        const over = escalationStep(last.state, { kind: 'change', change, learnedAt: last.at }, where);
        const people = new Set(notices.flatMap((notice) => notice.people));
        expect(new Set(over.notices.flatMap((notice) => notice.people))).toEqual(people);
        expect(over.notices.length).toBe(people.size === 0 ? 0 : 1);
        let { state } = over;
        for (const pause of after) {
          const next = escalationStep(
            state,
            { kind: 'tick', at: epochMillis(last.at + pause * MILLIS_PER_MINUTE) },
            where,
          );
          expect(next.notices).toEqual([]);
          state = next.state;
        }
      }),
    );
  });
});
