// A pattern leaves for a try-in and comes back: where it lay, whichever order the acts are entered in, and taken back.

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { epochMillis, MILLIS_PER_HOUR } from '../../wax/units.ts';
import { type LifeAct, LIFE_ACTS, type Pattern, type PatternStay } from '../pattern.ts';
import { patternLife } from './pattern-life.ts';
import { staysWithAct, staysWithoutAct } from './pattern-stays.ts';

const MADE = Date.parse('2026-03-06T08:00:00Z');
const iso = (hour: number): string => new Date(MADE + hour * MILLIS_PER_HOUR).toISOString();
const stay = (station: string, from: number, to: number | null): PatternStay => ({
  station,
  from: iso(from),
  to: to === null ? null : iso(to),
});
const pattern = (stays: readonly PatternStay[], acts: readonly LifeAct[] = []): Pattern => ({
  id: 'A1',
  caseReference: '4711',
  wax: 'inlay-type-2',
  technique: 'layered',
  madeBy: 'Mira',
  length_millimetres: 25,
  tolerance_micrometres: 98,
  madeAt: iso(0),
  stays,
  acts,
  fate: null,
});
const act = (kind: LifeAct['kind'], hour: number): LifeAct => ({
  id: `${kind}-${hour}`,
  kind,
  at: iso(hour),
  recordedAt: iso(hour),
  by: 'Mira',
});
const whereabouts = (of: Pattern, hour: number) =>
  patternLife(of, epochMillis(MADE + hour * MILLIS_PER_HOUR)).whereabouts;

describe('the stays of a pattern', () => {
  it('end where it is sent for a try-in, and go on where it lay when it returns', () => {
    const sent = staysWithAct(pattern([stay('shelf', 0, null)]), act('sent-for-try-in', 2));
    expect(sent).toEqual([stay('shelf', 0, 2)]);
    const back = [stay('shelf', 0, 2), stay('shelf', 5, null)];
    expect(staysWithAct(pattern(sent), act('returned', 5))).toEqual(back);
    expect(staysWithAct(pattern(sent), act('returned', 5), 'cabinet')[1]).toEqual(stay('cabinet', 5, null));
  });

  it('leave later ones alone when a try-in is entered late', () => {
    const moved = [stay('shelf', 0, 4), stay('cabinet', 4, null)];
    const sent = staysWithAct(pattern(moved), act('sent-for-try-in', 1));
    expect(sent).toEqual([stay('shelf', 0, 1), stay('cabinet', 4, null)]);
    expect(staysWithAct(pattern(sent), act('returned', 2))).toEqual([
      stay('shelf', 0, 1),
      stay('shelf', 2, 4),
      stay('cabinet', 4, null),
    ]);
  });

  it('are whole again when the sending is undone that a return was built on', () => {
    const there = [stay('shelf', 0, 2), stay('shelf', 5, 7), stay('cabinet', 7, null)];
    expect(staysWithoutAct(pattern(there), act('sent-for-try-in', 2))).toEqual([
      stay('shelf', 0, 7),
      stay('cabinet', 7, null),
    ]);
  });

  it('begin again with any act of the bench, and with none outside of it', () => {
    const away = pattern([stay('shelf', 0, 2)]);
    expect(staysWithAct(away, act('seated-on-die', 5))).toHaveLength(2);
    expect(staysWithAct(away, act('seated', 5))).toHaveLength(1);
  });

  it('never overlap and never end before they begin, whatever is entered and undone in whichever order', () => {
    const acts = fc.array(
      fc.record({ kind: fc.constantFrom(...LIFE_ACTS), hour: fc.integer({ min: 0, max: 20 }) }),
    );
    fc.assert(
      fc.property(acts, fc.array(fc.nat({ max: 9 })), (entered, undone) => {
        let of = pattern([stay('shelf', 0, 6), stay('cabinet', 6, null)]);
        const done = entered.map(({ kind, hour }) => act(kind, hour));
        for (const each of done) of = { ...of, stays: staysWithAct(of, each) };
        for (const index of undone) {
          const each = done[index];
          if (each !== undefined) of = { ...of, stays: staysWithoutAct(of, each) };
        }
        for (const [index, { from, to }] of of.stays.entries()) {
          expect(to === null || Date.parse(to) >= Date.parse(from)).toBe(true);
          const next = of.stays[index + 1];
          if (next !== undefined) expect(to !== null && Date.parse(next.from) >= Date.parse(to)).toBe(true);
        }
      }),
    );
  });
});

describe('a pattern that was sent for a try-in', () => {
  const sent = act('sent-for-try-in', 2);

  it.each([
    ['returned', 'standing'],
    ['off-die', 'standing'],
    ['seated-on-die', 'on-die'],
    ['chilled', 'chilled'],
    ['sprued', 'standing'],
    ['seated', 'away'],
  ] as const)('is back by the act %s: %s', (kind, expected) => {
    const of = pattern([stay('shelf', 0, 2)], [sent, act(kind, 5)]);
    expect(whereabouts(of, 4)).toBe('away');
    expect(whereabouts(of, 6)).toBe(expected);
  });

  it('is back where it is laid somewhere, and stands from then on', () => {
    const of = pattern([stay('shelf', 0, 2), stay('cabinet', 5, null)], [sent]);
    expect(whereabouts(of, 4)).toBe('away');
    const { whereabouts: now, standingSince } = patternLife(of, epochMillis(MADE + 6 * MILLIS_PER_HOUR));
    expect([now, standingSince]).toEqual(['standing', MADE + 5 * MILLIS_PER_HOUR]);
  });

  it('over a weekend has its whole absence as one stretch of no more than the warmth of a mouth', () => {
    const of = pattern([stay('shelf', 0, 2), stay('shelf', 72, null)], [sent, act('returned', 72)]);
    const { stated, wasAway } = patternLife(of, epochMillis(MADE + 80 * MILLIS_PER_HOUR));
    expect(stated).toEqual([
      {
        from: MADE + 2 * MILLIS_PER_HOUR,
        to: MADE + 72 * MILLIS_PER_HOUR,
        celsius: null,
        atMostCelsius: 37,
        isOpen: false,
      },
    ]);
    expect(wasAway).toBe(true);
  });

  it('whose sending is undone stands since it was made, though its return is still entered', () => {
    const of = pattern([stay('shelf', 0, null)], [act('returned', 5)]);
    expect(patternLife(of, epochMillis(MADE + 6 * MILLIS_PER_HOUR)).standingSince).toBe(MADE);
  });
});
