import { describe, expect, it } from 'vitest';
import type { AlarmAct } from '../../../lab/act.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { Person, Role } from '../../../lab/person.ts';
import { DEFAULT_NOTIFICATION_PLAN, type NotificationPlan } from '../../../lab/notification-plan.ts';
import { epochMillis, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import { type AlarmEvent, alarmStep, normalAlarm } from '../../watch/life/alarm-step.ts';
import type { Alarm, AlarmChange } from '../../watch/life/alarm.ts';
import { ESCALATION_START, type EscalationInput, escalationStep, type Notice } from './escalation.ts';
import { dutyEnd } from './duty-end.ts';
import { onDuty } from './on-duty.ts';
import { recipientsOf } from './recipients.ts';

const at = (text: string) => epochMillis(Date.parse(text));
const person = (id: string, role: Role): Person => ({
  ...{ id, name: id, role, language: 'en', temperatureUnit: 'celsius', hourCycle: 'h23', email: null },
  ...{ namesOnLockScreen: false, morningHeartbeat: id === 'mara' },
});
const day = [['08:00', '17:00']] as const;
const labWith = (changes: Partial<NotificationPlan>, people?: readonly Person[]): Lab => ({
  site: {
    ...{ id: 'lab', name: 'Lab', timeZone: 'Europe/Berlin', holidays: ['2031-05-01'] },
    workingHours: { mon: day, tue: day, wed: day, thu: day, fri: day, sat: [], sun: [] },
  },
  ...{ stations: [], probes: [], charges: [], patterns: [], waxOverrides: {} },
  people: people ?? [person('mara', 'manager'), person('tom', 'technician'), person('ida', 'technician')],
  notificationPlan: { ...DEFAULT_NOTIFICATION_PLAN, ...changes },
});
const ROTA = { people: ['tom', 'ida'], startsOn: '2031-03-03', handoverTime: '08:00' };
const plan = (changes: Partial<NotificationPlan>): NotificationPlan => ({
  ...DEFAULT_NOTIFICATION_PLAN,
  ...changes,
});

const raisedAt = (instant: string, priority: Alarm['priority'] = 'high'): AlarmChange => {
  const identity = { rule: 'over-ceiling', subject: 'pot-1', subjectKind: 'station' } as const;
  const start = normalAlarm({ ...identity, priority, latches: false }, at(instant));
  const [change] = alarmStep(start, { type: 'begins', at: at(instant), tense: 'now', evidence: {} }).changes;
  if (change === undefined) throw new Error('nothing was raised');
  return change;
};
const changed = (change: AlarmChange): EscalationInput => ({ kind: 'change', change, learnedAt: change.at });
const run = (lab: Lab, inputs: readonly EscalationInput[]): readonly Notice[] => {
  let state = ESCALATION_START;
  return inputs.flatMap((input) => {
    const step = escalationStep(state, input, lab);
    state = JSON.parse(JSON.stringify(step.state));
    return step.notices;
  });
};
const ticks = (from: string, minutes: number): EscalationInput[] =>
  Array.from({ length: minutes }, (_, index) => ({
    kind: 'tick' as const,
    at: epochMillis(at(from) + (index + 1) * MILLIS_PER_MINUTE),
  }));
type Unsigned<T> = T extends unknown ? Omit<T, 'alarm' | 'by'> : never;
const act = (given: Unsigned<AlarmAct>): AlarmEvent => ({
  ...{ type: 'act', at: at('2031-03-04T22:15:00Z') },
  act: { alarm: 'pot-1', by: 'Tom', ...given } as AlarmAct,
});
const sentOf = (notices: readonly Notice[]) =>
  notices.map(
    (notice) => `${new Date(notice.at).toISOString().slice(11, 16)} ${notice.kind} ${notice.people}`,
  );

describe('the duty', () => {
  it.each([
    ['2031-03-03T06:59:59Z', 'ida', 'before the first turn the circle goes on backwards'],
    ['2031-03-03T07:00:00Z', 'tom', 'at eight in winter'],
    ['2031-03-10T06:59:59Z', 'tom', 'a second before the handover'],
    ['2031-03-10T07:00:00Z', 'ida', 'at the handover'],
    ['2031-03-31T05:59:59Z', 'ida', 'a second before eight on the day after the clocks went forward'],
    ['2031-03-31T06:00:00Z', 'tom', 'at eight in summer'],
    ['2031-10-27T06:59:59Z', 'ida', 'a second before eight on the day after the clocks went back'],
    ['2031-10-27T07:00:00Z', 'tom', 'at eight in winter again'],
  ])('at %s is with %s: %s', (instant, who) => {
    expect(onDuty(plan({ rota: ROTA }), labWith({}), at(instant))[0]).toBe(who);
  });

  it('hands over once on a night whose handover hour is skipped or comes twice', () => {
    const spring = plan({ rota: { ...ROTA, startsOn: '2031-03-30', handoverTime: '02:30' } });
    expect(onDuty(spring, labWith({}), at('2031-03-30T00:59:00Z'))[0]).toBe('ida');
    expect(onDuty(spring, labWith({}), at('2031-03-30T01:31:00Z'))[0]).toBe('tom');
    const autumn = plan({ rota: { ...ROTA, startsOn: '2031-10-26', handoverTime: '02:30' } });
    expect(onDuty(autumn, labWith({}), at('2031-10-26T00:29:00Z'))[0]).toBe('ida');
    expect(onDuty(autumn, labWith({}), at('2031-10-26T00:30:00Z'))[0]).toBe('tom');
    expect(onDuty(autumn, labWith({}), at('2031-10-26T01:29:00Z'))[0]).toBe('tom');
  });

  it('steps over who is absent, both days included, and falls to the managers when nobody is left', () => {
    const absences = [{ person: 'tom', from: '2031-03-04', to: '2031-03-05' }];
    const one = plan({ rota: ROTA, absences });
    const who = (instant: string) => recipientsOf('on-duty', one, labWith({}), at(instant));
    expect(who('2031-03-03T12:00:00Z')).toEqual(['tom']);
    expect(who('2031-03-04T12:00:00Z')).toEqual(['ida']);
    expect(who('2031-03-05T22:59:00Z')).toEqual(['ida']);
    expect(who('2031-03-05T23:01:00Z')).toEqual(['tom']);
    const all = plan({
      rota: ROTA,
      absences: [...absences, { person: 'ida', from: '2031-03-01', to: '2031-03-31' }],
    });
    expect(recipientsOf('on-duty', all, labWith({}), at('2031-03-04T12:00:00Z'))).toEqual(['mara']);
  });

  it('notifies all managers when all of them are away', () => {
    const away = plan({ absences: [{ person: 'mara', from: '2031-01-01', to: '2031-12-31' }] });
    expect(recipientsOf('managers', away, labWith({}), at('2031-03-04T12:00:00Z'))).toEqual(['mara']);
  });

  it('is with everybody who may handle alarms while the lab has no rota', () => {
    expect(
      recipientsOf('on-duty', DEFAULT_NOTIFICATION_PLAN, labWith({}), at('2031-03-04T12:00:00Z')),
    ).toEqual(['mara', 'tom', 'ida']);
  });
});

describe('the end of a duty', () => {
  const end = (changes: Partial<NotificationPlan>, instant: string) => {
    const found = dutyEnd(plan(changes), labWith({}), at(instant));
    return found === null ? null : new Date(found).toISOString();
  };

  it.each([
    ['2031-03-10T06:59:59Z', '2031-03-10T07:00:00.000Z', 'the handover of the same day'],
    ['2031-03-10T07:00:00Z', '2031-03-17T07:00:00.000Z', 'at a handover the next one'],
    ['2031-03-26T12:00:00Z', '2031-03-31T06:00:00.000Z', 'after the clocks went forward'],
    ['2031-01-01T12:00:00Z', '2031-01-06T07:00:00.000Z', 'before the first turn'],
  ])('at %s is %s: %s', (instant, expected) => {
    expect(end({ rota: ROTA }, instant)).toBe(expected);
  });

  it('is the edge of an absence that puts somebody else on duty', () => {
    const absences = [{ person: 'tom', from: '2031-03-05', to: '2031-03-06' }];
    expect(end({ rota: ROTA, absences }, '2031-03-04T12:00:00Z')).toBe('2031-03-04T23:00:00.000Z');
    expect(end({ rota: ROTA, absences }, '2031-03-05T12:00:00Z')).toBe('2031-03-06T23:00:00.000Z');
  });

  it('passes over a handover to the same person', () => {
    const absences = [{ person: 'ida', from: '2031-03-10', to: '2031-03-23' }];
    expect(end({ rota: ROTA, absences }, '2031-03-04T12:00:00Z')).toBe('2031-03-24T07:00:00.000Z');
  });

  it('is unknown where nothing in the plan changes it', () => {
    expect(end({}, '2031-03-04T12:00:00Z')).toBeNull();
    expect(end({ rota: { ...ROTA, people: ['tom'] } }, '2031-03-04T12:00:00Z')).toBeNull();
  });
});

describe('escalation', () => {
  const saying = (
    instant: string,
    kind: AlarmChange['kind'],
    urgency: 'now' | 'can-wait',
  ): EscalationInput => {
    const change = raisedAt('2031-03-04T22:00:00Z', 'high');
    const alarm = { ...change.alarm, evidence: { urgency } };
    return { kind: 'change', change: { ...change, kind, at: at(instant), alarm }, learnedAt: at(instant) };
  };
  it('lets what can wait for the morning wait, though its priority wakes', () => {
    const notices = run(labWith({ rota: ROTA }), [
      saying('2031-03-04T22:00:00Z', 'raised', 'can-wait'),
      ...ticks('2031-03-04T22:00:00Z', 60),
      ...ticks('2031-03-05T06:55:00Z', 6),
    ]);
    expect(sentOf(notices)).toEqual(['07:00 raised tom']);
  });
  it('sends it at once when it cannot wait any more', () => {
    const notices = run(labWith({ rota: ROTA }), [
      saying('2031-03-04T22:00:00Z', 'raised', 'can-wait'),
      ...ticks('2031-03-04T22:00:00Z', 30),
      saying('2031-03-04T23:00:00Z', 'updated', 'now'),
    ]);
    expect(sentOf(notices)).toEqual(['23:00 raised tom']);
  });

  const learned = (instant: string, priority: Alarm['priority']): AlarmChange => {
    const { alarm } = raisedAt(instant, priority);
    const over = { active: false, acknowledged: true, tense: 'learned', clearedAt: at(instant) } as const;
    return { kind: 'learned', at: at(instant), by: null, reason: null, alarm: { ...alarm, ...over } };
  };
  it.each([
    ['urgent', '2031-03-04T22:00:00Z', ['22:00 learned tom']],
    ['medium', '2031-03-04T22:00:00Z', ['07:00 learned tom']],
    ['medium', '2031-03-04T12:00:00Z', ['12:00 learned tom']],
    ['low', '2031-03-04T12:00:00Z', []],
  ] as const)(
    'sends what was so and is over once, %s at %s, and asks for no answer',
    (priority, instant, sent) => {
      const notices = run(labWith({ rota: ROTA }), [
        changed(learned(instant, priority)),
        ...ticks(instant, 120),
      ]);
      expect(sentOf(notices.filter(({ kind }) => kind !== 'heartbeat'))).toEqual(sent);
    },
  );

  it('notifies nobody of what was over more than 31 days before it was learned', () => {
    const change = learned('2031-03-04T12:00:00Z', 'urgent');
    const sentAfter = (days: number) => {
      const learnedAt = at(new Date(Date.parse('2031-03-04T12:00:00Z') + days * 86_400_000).toISOString());
      const notices = run(labWith({ rota: ROTA }), [{ kind: 'change', change, learnedAt }]);
      return notices.filter(({ kind }) => kind === 'learned').length;
    };
    expect([sentAfter(30), sentAfter(32)]).toEqual([1, 0]);
  });

  const lab = labWith({ rota: ROTA });

  it.each([
    [
      'forward',
      '2031-03-30T00:55:00Z',
      ['00:55 raised ida', '01:05 still-open tom', '01:15 still-open mara'],
    ],
    ['back', '2031-10-26T00:55:00Z', ['00:55 raised ida', '01:05 still-open tom', '01:15 still-open mara']],
  ])('counts real minutes on the night on which the clocks go %s', (_way, instant, expected) => {
    const notices = run(lab, [changed(raisedAt(instant)), ...ticks(instant, 120)]);
    expect(sentOf(notices)).toEqual(expected);
  });

  it('stops when somebody acknowledges, and notifies those who were notified before', () => {
    const instant = '2031-03-04T22:00:00Z';
    const raised = raisedAt(instant);
    const act = { type: 'acknowledge', alarm: raised.alarm.id, by: 'Tom' } as const;
    const seen = alarmStep(raised.alarm, { type: 'act', at: at('2031-03-04T22:05:00Z'), act }).changes[0];
    if (seen === undefined) throw new Error('not acknowledged');
    const notices = run(lab, [changed(raised), changed(seen), ...ticks(instant, 60)]);
    expect(sentOf(notices)).toEqual(['22:00 raised tom', '22:05 acknowledged tom']);
  });

  it('lets what wakes nobody wait for the opening, over a holiday too, and forgets it when it is over by then', () => {
    const instant = '2031-04-30T16:00:00Z';
    const raised = raisedAt(instant, 'medium');
    const opening = [
      { kind: 'tick', at: at('2031-05-01T07:00:00Z') },
      { kind: 'tick', at: at('2031-05-02T05:59:00Z') },
      { kind: 'tick', at: at('2031-05-02T06:00:00Z') },
    ] as const;
    expect(sentOf(run(lab, [changed(raised), ...opening]))).toEqual(['06:00 raised tom']);
    const over = alarmStep(raised.alarm, { type: 'ends', at: at('2031-04-30T20:00:00Z') }).changes[0];
    if (over === undefined) throw new Error('not over');
    expect(run(lab, [changed(raised), changed(over), ...opening])).toEqual([]);
  });

  it.each<[string, AlarmEvent]>([
    ['shelved', act({ type: 'shelve', until: at('2031-03-04T23:00:00Z'), reason: 'cleaning' })],
    ['taken out of service', act({ type: 'take-out-of-service', reason: 'new probe' })],
    [
      'hidden behind its cause',
      { type: 'suppress', at: at('2031-03-04T22:15:00Z'), reason: 'behind:fire-risk' },
    ],
  ])(
    'notifies those who were notified before, and nobody else, when it is %s, and goes no further',
    (_how, event) => {
      const raised = raisedAt('2031-03-04T22:00:00Z');
      const [aside] = alarmStep(raised.alarm, event).changes;
      if (aside === undefined) throw new Error('nothing changed');
      const notices = run(lab, [
        changed(raised),
        ...ticks('2031-03-04T22:00:00Z', 12),
        changed(aside),
        ...ticks('2031-03-04T22:15:00Z', 40),
      ]);
      expect(sentOf(notices)).toEqual([
        '22:00 raised tom',
        '22:10 still-open ida',
        '22:15 put-aside tom,ida',
      ]);
      expect(notices.at(-1)?.by).toBe(event.type === 'act' ? 'Tom' : null);
    },
  );

  it('notifies anew when it is no longer shelved', () => {
    const raised = raisedAt('2031-03-04T22:00:00Z');
    const until = at('2031-03-04T23:00:00Z');
    const aside = alarmStep(raised.alarm, act({ type: 'shelve', until, reason: 'cleaning' }));
    const back = alarmStep(aside.alarm, { type: 'time', at: until });
    const changes = [raised, ...aside.changes, ...back.changes];
    expect(sentOf(run(lab, changes.map(changed)))).toEqual([
      '22:00 raised tom',
      '22:15 put-aside tom',
      '23:00 raised tom',
    ]);
  });

  it('notifies nobody of what is shelved or hidden', () => {
    const raised = raisedAt('2031-03-04T12:00:00Z');
    const hidden = { ...raised, alarm: { ...raised.alarm, suppressedBy: 'planned-off' } };
    expect(run(lab, [changed(hidden), ...ticks('2031-03-04T12:00:00Z', 40)])).toEqual([]);
  });

  it('rings an urgent alarm again every five minutes, without end, for all who were notified', () => {
    const instant = '2031-03-04T22:00:00Z';
    expect(sentOf(run(lab, [changed(raisedAt(instant, 'urgent')), ...ticks(instant, 36)]))).toEqual([
      '22:00 raised tom',
      '22:05 still-open tom',
      '22:10 still-open ida,tom',
      '22:15 still-open tom,ida',
      '22:20 still-open mara,tom,ida',
      '22:25 still-open tom,ida,mara',
      '22:30 still-open tom,ida,mara',
      '22:35 still-open tom,ida,mara',
    ]);
  });

  it('rings an urgent alarm once, not once for each ring that was missed, after the watch stood still', () => {
    const inputs = [
      changed(raisedAt('2031-03-04T22:00:00Z', 'urgent')),
      ...ticks('2031-03-04T22:00:00Z', 1),
      ...ticks('2031-03-04T22:32:00Z', 4),
    ];
    expect(sentOf(run(lab, inputs))).toEqual([
      '22:00 raised tom',
      '22:33 still-open ida,mara,tom',
      '22:35 still-open tom,ida,mara',
    ]);
  });

  it('counts minutes and opening hours from when an alarm was learned, however long ago it happened', () => {
    const raised = raisedAt('2031-03-04T01:00:00Z');
    const learned = { ...changed(raised), learnedAt: at('2031-03-04T22:00:00Z') };
    expect(sentOf(run(lab, [learned, ...ticks('2031-03-04T22:00:00Z', 25)]))).toEqual([
      '22:00 raised tom',
      '22:10 still-open ida',
      '22:20 still-open mara',
    ]);
  });

  it('notifies whoever comes on duty while an alarm is open, on a holiday and a night of a clock change too', () => {
    const handovers = labWith({
      rota: { ...ROTA, startsOn: '2031-03-30', handoverTime: '03:30' },
      escalation: [{ afterMinutes: 0, who: 'on-duty' }],
    });
    const instant = '2031-03-30T00:58:00Z';
    expect(sentOf(run(handovers, [changed(raisedAt(instant)), ...ticks(instant, 60)]))).toEqual([
      '00:58 raised ida',
      '01:30 still-open tom',
    ]);
    const holiday = labWith({
      rota: { ...ROTA, startsOn: '2031-05-01' },
      escalation: [{ afterMinutes: 0, who: 'on-duty' }],
    });
    const before = '2031-05-01T05:00:00Z';
    expect(sentOf(run(holiday, [changed(raisedAt(before)), ...ticks(before, 90)]))).toEqual([
      '05:00 raised ida',
      '06:00 still-open tom',
    ]);
    // What wakes nobody waits for the opening with those who come on duty, too.
    expect(sentOf(run(holiday, [changed(raisedAt(before, 'low')), ...ticks(before, 90)]))).toEqual([]);
  });

  it('gives every notice of one alarm a key of its own, the same at a replay', () => {
    const inputs = [changed(raisedAt('2031-03-04T12:00:00Z')), ...ticks('2031-03-04T12:00:00Z', 30)];
    const keys = run(lab, inputs).map(({ key }) => key);
    expect(new Set(keys).size).toBe(3);
    expect(run(lab, inputs).map(({ key }) => key)).toEqual(keys);
  });

  it('beats once each morning at the wall-clock time, and not hours late', () => {
    const beating = labWith({ heartbeatAt: '07:30' });
    const beat = (...instants: string[]) =>
      sentOf(
        run(
          beating,
          instants.map((instant) => ({ kind: 'tick', at: at(instant) })),
        ),
      );
    expect(
      beat('2031-03-29T06:29:00Z', '2031-03-29T06:30:00Z', '2031-03-29T06:31:00Z', '2031-03-30T05:30:00Z'),
    ).toEqual(['06:30 heartbeat mara', '05:30 heartbeat mara']);
    expect(beat('2031-03-29T11:00:00Z', '2031-03-29T11:01:00Z')).toEqual([]);
  });
});
