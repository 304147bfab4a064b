import { describe, expect, it } from 'vitest';
import type { AlarmAct } from '../../../lab/act.ts';
import type { Lab } from '../../../lab/lab.ts';
import { epochMillis, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import { type AlarmEvent, alarmStep, normalAlarm } from '../../watch/life/alarm-step.ts';
import type { Alarm, AlarmChange } from '../../watch/life/alarm.ts';
import { ESCALATION_START, type EscalationInput, escalationStep, type Notice } from './escalation.ts';
import { at, labWith, ROTA } from '../../../tests/duty-for-tests.ts';

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
  type: 'act',
  at: at('2031-03-04T22:15:00Z'),
  act: { alarm: 'pot-1', by: 'Tom', ...given } as AlarmAct,
});
const sentOf = (notices: readonly Notice[]) =>
  notices.map(
    (notice) => `${new Date(notice.at).toISOString().slice(11, 16)} ${notice.kind} ${notice.people}`,
  );

describe('escalation', () => {
  const saying = (
    instant: string,
    kind: AlarmChange['kind'],
    urgency: 'now' | 'can-wait' | 'note',
    priority: Alarm['priority'] = 'high',
  ): EscalationInput => {
    const change = raisedAt('2031-03-04T22:00:00Z', priority);
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
  it('calls by night for an alarm of medium priority that cannot wait, where high ones call, and not for a low one', () => {
    const at22 = (priority: Alarm['priority'], plan: Parameters<typeof labWith>[0]) =>
      sentOf(
        run(labWith(plan), [
          saying('2031-03-04T22:00:00Z', 'raised', 'now', priority),
          ...ticks('2031-03-04T22:00:00Z', 5),
        ]),
      );
    expect(at22('medium', { rota: ROTA })).toEqual(['22:00 raised tom']);
    expect(at22('medium', { rota: ROTA, outsideHours: ['urgent'] })).toEqual([]);
    expect(at22('low', { rota: ROTA })).toEqual([]);
  });
  it('does not wait for the end of a lunch break, but of a closure of half a day', () => {
    const notified = (closes: string, opens: string) => {
      const plain = labWith({ rota: ROTA });
      const tue = [
        ['08:00', closes],
        [opens, '17:00'],
      ] as const;
      const workingHours = { ...plain.site.workingHours, tue };
      const site = { ...plain.site, workingHours };
      const raised = changed(raisedAt('2031-03-04T11:20:00Z', 'medium'));
      return sentOf(run({ ...plain, site }, [raised, ...ticks('2031-03-04T11:20:00Z', 300)])).at(0);
    };
    expect(notified('12:00', '13:00')).toBe('11:20 raised tom');
    expect(notified('12:00', '14:00')).toBe('11:20 raised tom');
    expect(notified('12:00', '15:00')).toBe('14:00 raised tom');
  });
  it('sends it at once when it cannot wait any more', () => {
    const notices = run(labWith({ rota: ROTA }), [
      saying('2031-03-04T22:00:00Z', 'raised', 'can-wait'),
      ...ticks('2031-03-04T22:00:00Z', 30),
      saying('2031-03-04T23:00:00Z', 'updated', 'now'),
    ]);
    expect(sentOf(notices)).toEqual(['23:00 raised tom']);
  });

  it('sends at once what waited by its priority alone, as soon as it is found that it cannot wait', () => {
    const waiting = raisedAt('2031-03-04T22:00:00Z', 'medium');
    const found = { ...waiting.alarm, evidence: { urgency: 'now' } };
    const update = (alarm: Alarm): EscalationInput => ({
      kind: 'change',
      learnedAt: at('2031-03-04T23:00:00Z'),
      change: { ...waiting, kind: 'updated', at: at('2031-03-04T23:00:00Z'), alarm },
    });
    const until = (alarm: Alarm) =>
      sentOf(
        run(labWith({ rota: ROTA }), [
          ...[changed(waiting), ...ticks('2031-03-04T22:00:00Z', 59), update(alarm)],
          ...ticks('2031-03-04T23:00:00Z', 11),
        ]),
      );
    expect(until(waiting.alarm)).toEqual([]);
    expect(until(found)).toEqual(['23:00 raised tom', '23:10 still-open ida']);
  });

  it('sends nobody what is only shown on the screens, in working hours neither', () => {
    const instant = '2031-03-05T10:00:00Z';
    const notices = run(labWith({ rota: ROTA }), [saying(instant, 'raised', 'note'), ...ticks(instant, 60)]);
    expect(sentOf(notices)).toEqual([]);
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

  it('lets what wakes nobody wait for the opening, over a holiday too, and drops it when it is over by then', () => {
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

  it('goes on with what may not notify outside working hours only when the lab is open again', () => {
    const from = '2031-03-04T15:55:00Z';
    const opening = '2031-03-05T06:55:00Z';
    const inputs = (priority: Alarm['priority']) => [
      changed(raisedAt(from, priority)),
      ...ticks(from, 60),
      ...ticks(opening, 10),
    ];
    const where = labWith({ rota: ROTA });
    expect(sentOf(run(where, inputs('medium')))).toEqual(['15:55 raised tom', '07:00 still-open ida,mara']);
    expect(sentOf(run(where, inputs('high')))).toEqual([
      '15:55 raised tom',
      '16:05 still-open ida',
      '16:15 still-open mara',
    ]);
  });

  it('gives every notice of one alarm a key of its own, the same at a replay', () => {
    const inputs = [changed(raisedAt('2031-03-04T12:00:00Z')), ...ticks('2031-03-04T12:00:00Z', 30)];
    const keys = run(lab, inputs).map(({ key }) => key);
    expect(new Set(keys).size).toBe(3);
    expect(run(lab, inputs).map(({ key }) => key)).toEqual(keys);
  });

  it('keeps the minutes that have passed when the clock of the machine is set back', () => {
    const alarm = raisedAt('2031-03-04T12:00:00Z', 'urgent');
    const clock = (instant: string): EscalationInput => ({ kind: 'clock', at: at(instant) });
    const notices = run(lab, [
      clock('2031-03-04T12:00:00Z'),
      changed(alarm),
      ...ticks('2031-03-04T12:00:00Z', 7),
      clock('2031-03-04T12:07:00Z'),
      clock('2031-03-04T11:07:00Z'),
      ...ticks('2031-03-04T11:07:00Z', 4),
    ]);
    expect(sentOf(notices)).toEqual([
      '12:00 raised tom',
      '12:05 still-open tom',
      // The tenth minute: the next in turn, and the second time that it rings again.
      '11:10 still-open ida,tom',
    ]);
  });

  it('leaves what waits for the opening to the clock on the wall when that is set back', () => {
    const notices = run(lab, [
      { kind: 'clock', at: at('2031-03-05T05:00:00Z') },
      changed(raisedAt('2031-03-05T05:00:00Z', 'low')),
      { kind: 'clock', at: at('2031-03-05T04:00:00Z') },
      ...ticks('2031-03-05T04:00:00Z', 185),
    ]);
    expect(sentOf(notices)[0]).toBe('07:00 raised tom');
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
