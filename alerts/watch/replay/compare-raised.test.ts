import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { epochMillis } from '../../../wax/units.ts';
import { compareRaised, countDifferences } from './compare-raised.ts';
import type { Raised } from './replay.ts';

const MINUTE = 60_000;
const raised = (from: number, to: number | null, subject = 'pot-1'): Raised => ({
  rule: 'over-ceiling',
  subject,
  from: epochMillis(from * MINUTE),
  to: to === null ? null : epochMillis(to * MINUTE),
});

describe('two lists of what was raised', () => {
  it.each([
    ['same', [raised(10, 20)], [raised(10, 25)], { same: 1 }],
    ['earlier', [raised(10, 20)], [raised(5, 25)], { earlier: 1 }],
    ['later while it lasts, however much', [raised(10, 600)], [raised(500, 600)], { later: 1 }],
    ['another event hours after', [raised(10, 20)], [raised(200, 210)], { fewer: 1, more: 1 }],
    ['another place', [raised(10, 20)], [raised(10, 20, 'pot-2')], { fewer: 1, more: 1 }],
    ['one that never ends', [raised(10, null)], [raised(900, null)], { later: 1 }],
    ['two for one', [raised(10, 300)], [raised(10, 20), raised(200, 210)], { same: 1, more: 1 }],
  ])('differ: %s', (_, before, after, counts) => {
    const none = { same: 0, earlier: 0, later: 0, more: 0, fewer: 0 };
    expect(countDifferences(compareRaised(before, after))).toEqual({ ...none, ...counts });
  });

  it('come back whole: each of both is in one difference', () => {
    const list = fc
      .array(fc.tuple(fc.nat(2000), fc.nat(100), fc.constantFrom('pot-1', 'pot-2')), { maxLength: 20 })
      .map((rows) =>
        rows.sort(([a], [b]) => a - b).map(([from, length, subject]) => raised(from, from + length, subject)),
      );
    fc.assert(
      fc.property(list, list, (before, after) => {
        const differences = compareRaised(before, after);
        const befores = differences.flatMap((difference) =>
          'before' in difference ? [difference.before] : [],
        );
        const afters = differences.flatMap((difference) => ('after' in difference ? [difference.after] : []));
        expect(new Set(befores)).toEqual(new Set(before));
        expect(new Set(afters)).toEqual(new Set(after));
        expect([befores.length, afters.length]).toEqual([before.length, after.length]);
      }),
    );
  });
});
