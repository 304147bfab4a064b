// The standard's state table as data, and the step against it: every edge that it has, every edge that it has not,
// and long random walks.

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { AlarmAct } from '../../../lab/act.ts';
import { epochMillis, MILLIS_PER_HOUR } from '../../../wax/units.ts';
import type { Alarm, AlarmStateCode } from './alarm.ts';
import { alarmStateCode } from './alarm-state.ts';
import { type AlarmEvent, alarmStep, normalAlarm } from './alarm-step.ts';

const NAMES = [
  'true',
  'false',
  'acknowledge',
  'reset',
  're-alarm',
  'shelve',
  'unshelve',
  'time-up',
  'suppress',
  'unsuppress',
  'take-out',
  'return',
] as const;
type Name = (typeof NAMES)[number];

/** `B|A`: B when the condition holds, else A. Absent: the event changes nothing, or is refused. */
type Row = Partial<Record<Name, AlarmStateCode | 'B|A'>>;
const hide = { shelve: 'G', suppress: 'H', 'take-out': 'I' } as const;

// IEC 62682 / ISA-18.2 state table; a condition that comes back within a record keeps the record.
const PLAIN: Record<AlarmStateCode, Row> = {
  A: { true: 'B', ...hide },
  B: { acknowledge: 'C', false: 'D', ...hide },
  C: { false: 'A', 're-alarm': 'B', ...hide },
  D: { acknowledge: 'A', true: 'B', ...hide },
  E: {},
  F: {},
  G: { unshelve: 'B|A', 'time-up': 'B|A', suppress: 'H', 'take-out': 'I' },
  H: { unsuppress: 'B|A', 'take-out': 'I' },
  I: { return: 'B|A' },
};
const LATCHING: Record<AlarmStateCode, Row> = {
  ...PLAIN,
  B: { acknowledge: 'C', false: 'E', ...hide },
  C: { false: 'F', 're-alarm': 'B', ...hide },
  D: {},
  E: { acknowledge: 'F', true: 'B', ...hide },
  F: { reset: 'A', true: 'B', ...hide },
};

const at = epochMillis(1_000_000);
const later = epochMillis(at + MILLIS_PER_HOUR);
const acted = (
  act: { readonly type: AlarmAct['type'] } & Partial<{ reason: string; until: number }>,
): AlarmEvent => ({ type: 'act', at, act: { alarm: 'x', by: 'Mira', ...act } as AlarmAct });
const EVENTS: Record<Name, AlarmEvent> = {
  true: { type: 'begins', at, tense: 'now', evidence: {} },
  false: { type: 'ends', at },
  acknowledge: acted({ type: 'acknowledge' }),
  reset: acted({ type: 'reset' }),
  're-alarm': { type: 're-alarm', at, reason: 'still so' },
  shelve: acted({ type: 'shelve', until: later, reason: 'being repaired' }),
  unshelve: acted({ type: 'unshelve' }),
  'time-up': { type: 'time', at: later },
  suppress: { type: 'suppress', at, reason: 'planned-off' },
  unsuppress: { type: 'unsuppress', at },
  'take-out': acted({ type: 'take-out-of-service', reason: 'broken probe' }),
  return: acted({ type: 'return-to-service' }),
};

const start = (latches: boolean): Alarm =>
  normalAlarm(
    { rule: 'over-ceiling', subject: 'pot-1', subjectKind: 'station', priority: 'high', latches },
    at,
  );
const walked = (latches: boolean, names: readonly Name[]): Alarm =>
  names.reduce((alarm, name) => alarmStep(alarm, EVENTS[name]).alarm, start(latches));

const WAYS: Record<AlarmStateCode, readonly Name[]> = {
  A: [],
  B: ['true'],
  C: ['true', 'acknowledge'],
  D: ['true', 'false'],
  E: ['true', 'false'],
  F: ['true', 'acknowledge', 'false'],
  G: ['true', 'shelve'],
  H: ['true', 'suppress'],
  I: ['true', 'take-out'],
};

const expected = (row: Row, name: Name, alarm: Alarm): AlarmStateCode => {
  const to = row[name] ?? alarmStateCode(alarm);
  return to === 'B|A' ? (alarm.active ? 'B' : 'A') : to;
};

describe.each([
  { kind: 'an alarm that does not latch', latches: false, table: PLAIN, never: ['E', 'F'] },
  { kind: 'a latching alarm', latches: true, table: LATCHING, never: ['D'] },
])('$kind', ({ latches, table, never }) => {
  const cases = (Object.keys(table) as AlarmStateCode[])
    .filter((code) => !never.includes(code))
    .flatMap((from) => NAMES.map((name) => ({ from, name })));

  it.each(cases)('in state $from goes on "$name" where the standard puts it', ({ from, name }) => {
    const alarm = walked(latches, WAYS[from]);
    expect(alarmStateCode(alarm)).toBe(from);
    const step = alarmStep(alarm, EVENTS[name]);
    expect(alarmStateCode(step.alarm)).toBe(expected(table[from], name, alarm));
    // What people request is done and on record with their name, or refused with a reason; never passed over.
    const event = EVENTS[name];
    if (event.type === 'act') {
      const done = step.changes.map(({ by }) => by);
      expect(step.refusal === undefined ? done : [...done, step.refusal.code]).toHaveLength(1);
      if (step.refusal === undefined) expect(done).toEqual(['Mira']);
    }
  });

  it.each(['G', 'H', 'I'] as const)('leaves %s for A when the condition went away meanwhile', (from) => {
    const out = { G: 'unshelve', H: 'unsuppress', I: 'return' } as const;
    const hidden = walked(latches, [...WAYS[from], 'false']);
    expect(alarmStateCode(hidden)).toBe(from);
    expect(alarmStateCode(alarmStep(hidden, EVENTS[out[from]]).alarm)).toBe('A');
  });

  it('keeps to the table on any walk while at most one thing hides it', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...NAMES), { maxLength: 60 }), (names) => {
        let alarm = start(latches);
        for (const name of names) {
          const from = alarmStateCode(alarm);
          const isHiding = name in hide && ['G', 'H', 'I'].includes(from);
          if (isHiding) continue;
          const step = alarmStep(alarm, EVENTS[name]);
          expect([from, name, alarmStateCode(step.alarm)]).toEqual([
            from,
            name,
            expected(table[from], name, alarm),
          ]);
          alarm = step.alarm;
        }
      }),
    );
  });

  it('keeps the facts true together on any walk', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...NAMES), { maxLength: 60 }), (names) => {
        let alarm = start(latches);
        let raised = 0;
        for (const name of names) {
          const step = alarmStep(alarm, EVENTS[name]);
          if (step.changes.some(({ kind }) => kind === 'raised')) raised += 1;
          if (name === 'true' || (name === 'false' && alarm.active)) expect(step.changes).toHaveLength(1);
          alarm = step.alarm;
          expect(alarm.active && alarm.latched).toBe(false);
          expect(alarm.acknowledged || alarm.acknowledgedAt === null).toBe(true);
        }
        // One record, however often it comes back before it is normal again.
        expect(raised).toBeLessThanOrEqual(1);
      }),
    );
  });
});

describe('shelving', () => {
  const raised = walked(true, ['true']);
  const shelve = (until: number, reason: string) =>
    alarmStep(raised, acted({ type: 'shelve', until, reason })).refusal?.code ?? null;
  it.each([
    { what: 'no reason', until: at + 1, reason: '  ', code: 'reason-missing' },
    { what: 'an end that is not in the future', until: at, reason: 'r', code: 'shelve-end-missing' },
    { what: 'an end just in the future', until: at + 1, reason: 'r', code: null },
    { what: 'an end in exactly eight hours', until: at + 8 * MILLIS_PER_HOUR, reason: 'r', code: null },
    { what: 'a longer one', until: at + 8 * MILLIS_PER_HOUR + 1, reason: 'r', code: 'shelve-too-long' },
    { what: 'no number', until: Number.NaN, reason: 'r', code: 'shelve-end-missing' },
  ])('with $what answers $code', ({ until, reason, code }) => {
    expect(shelve(until, reason)).toBe(code);
  });

  it('ends by itself at its instant and not before', () => {
    const shelved = walked(true, ['true', 'shelve']);
    const just = (millis: number) =>
      alarmStateCode(alarmStep(shelved, { type: 'time', at: epochMillis(later + millis) }).alarm);
    expect([just(-1), just(0)]).toEqual(['G', 'B']);
  });

  it('goes on counting what happens meanwhile', () => {
    const alarm = walked(true, ['true', 'shelve', 'false', 'true']);
    expect([alarmStateCode(alarm), alarm.count]).toEqual(['G', 2]);
  });
});

describe('refusals', () => {
  it.each([
    { way: ['true'] as const, code: 'reset-while-active' },
    { way: ['true', 'acknowledge'] as const, code: 'reset-while-active' },
    { way: ['true', 'false'] as const, code: 'reset-before-acknowledgement' },
    { way: ['true', 'acknowledge', 'false'] as const, code: null },
    { way: [] as const, code: 'nothing-to-reset' },
    { way: ['true', 'shelve'] as const, code: 'alarm-hidden' },
  ])('of a reset after $way: $code', ({ way, code }) => {
    expect(alarmStep(walked(true, way), EVENTS.reset).refusal?.code ?? null).toBe(code);
  });
});

describe('what was learned late', () => {
  it('becomes present, and is raised anew, when live readings show that it is still so', () => {
    const learned = alarmStep(start(false), { type: 'begins', at, tense: 'learned', evidence: {} }).alarm;
    const seen = alarmStep(learned, EVENTS.acknowledge).alarm;
    const now = alarmStep(seen, { type: 'begins', at: later, tense: 'now', evidence: {} });
    expect(now.changes.map(({ kind }) => kind)).toEqual(['raised-again']);
    expect([alarmStateCode(now.alarm), now.alarm.tense]).toEqual(['B', 'now']);
  });
});

describe('an acknowledgement that was sent late', () => {
  const raise: AlarmEvent = { type: 'begins', at, tense: 'now', evidence: {} };
  const first = alarmStep(start(false), raise).alarm;
  const again = alarmStep(alarmStep(first, { type: 'ends', at }).alarm, raise).alarm;
  const acknowledge = (seenCount?: number): AlarmEvent => ({
    type: 'act',
    at,
    act: { type: 'acknowledge', alarm: first.id, by: 'Mira', ...(seenCount !== undefined && { seenCount }) },
  });

  it('is refused when the alarm was raised again since, and leaves it unacknowledged', () => {
    const step = alarmStep(again, acknowledge(1));
    expect(step.refusal?.code).toBe('raised-again-since');
    expect(step.alarm).toEqual(again);
  });

  it('is taken for the raising that was seen, and for the present one when none is named', () => {
    expect(alarmStep(first, acknowledge(1)).alarm.acknowledged).toBe(true);
    expect(alarmStep(again, acknowledge(2)).alarm.acknowledged).toBe(true);
    expect(alarmStep(again, acknowledge()).alarm.acknowledged).toBe(true);
  });
});
