import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { epochMillis } from '../wax/units.ts';
import type { Rejection } from './decode/rejection.ts';
import { type Quarantine, quarantineFrom, quarantineStep } from './quarantine.ts';

const rejection = (topic: string, code: string, at: number): Rejection => ({
  topic,
  code,
  reason: `because of ${at}`,
  at: epochMillis(at),
  sample: Uint8Array.of(at % 256),
  bytes: at,
});
const EMPTY: Quarantine = new Map();

describe('the quarantine', () => {
  it('counts repeats in one row with first, last and the newest example', () => {
    const { quarantine, changed } = quarantineStep(EMPTY, [rejection('a', 'x', 1), rejection('a', 'x', 2)]);
    const row = { topic: 'a', code: 'x', reason: 'because of 2', count: 2, firstAt: 1, lastAt: 2, bytes: 2 };
    expect([...quarantine.values()]).toMatchObject([row]);
    expect(changed).toMatchObject([row]);
  });

  it('keeps a row for each topic and each reason', () => {
    const { quarantine } = quarantineStep(EMPTY, [
      rejection('a', 'x', 1),
      rejection('a', 'y', 2),
      rejection('b', 'x', 3),
    ]);
    expect(quarantine.size).toBe(3);
  });

  it('lets the row go that was met longest ago, and names it only if it was kept before', () => {
    const first = quarantineStep(EMPTY, [rejection('a', 'x', 1), rejection('b', 'x', 2)], 2);
    const second = quarantineStep(first.quarantine, [rejection('a', 'x', 3), rejection('c', 'x', 4)], 2);
    expect([...second.quarantine.values()].map(({ topic }) => topic)).toEqual(['a', 'c']);
    expect(second.gone.map(({ topic }) => topic)).toEqual(['b']);
    const third = quarantineStep(
      EMPTY,
      ['a', 'b', 'c'].map((topic) => rejection(topic, 'x', 5)),
      2,
    );
    expect(third.gone).toEqual([]);
    expect(third.changed.map(({ topic }) => topic)).toEqual(['b', 'c']);
  });

  it('never grows beyond its bound, and written rows give the same quarantine again', () => {
    const some = fc.array(fc.tuple(fc.constantFrom('a', 'b', 'c', 'd', 'e'), fc.constantFrom('x', 'y')), {
      maxLength: 6,
    });
    fc.assert(
      fc.property(fc.array(some, { maxLength: 8 }), fc.integer({ min: 1, max: 6 }), (batches, most) => {
        let quarantine = EMPTY;
        let now = 0;
        const written = new Map<string, Parameters<typeof quarantineFrom>[0][number]>();
        for (const batch of batches) {
          const rejections = batch.map(([topic, code]) => rejection(topic, code, ++now));
          const step = quarantineStep(quarantine, rejections, most);
          for (const row of step.gone) written.delete(`${row.topic} ${row.code}`);
          for (const row of step.changed) written.set(`${row.topic} ${row.code}`, row);
          quarantine = step.quarantine;
          expect(quarantine.size).toBeLessThanOrEqual(most);
          expect([...quarantineFrom([...written.values()])]).toEqual([...quarantine]);
        }
      }),
    );
  });
});
