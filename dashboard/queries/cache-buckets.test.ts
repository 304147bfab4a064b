import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { labForTests } from '../../tests/lab-for-tests.ts';
import { celsius, epochMillis } from '../../wax/units.ts';
import { cacheBuckets, widenBuckets } from './cache-buckets.ts';

const MINUTE = 60_000;

describe('buckets that are widened', () => {
  it('are those that the store answers with that width, whatever was measured when', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.uniqueArray(fc.integer({ min: 0, max: 4 * 3600 }), { minLength: 1, maxLength: 200 }),
        fc.integer({ min: 0, max: 900 }),
        async (seconds, offset) => {
          const lab = labForTests();
          const start = lab.running.now();
          const readings = seconds.map((second) => ({
            probe: 'pot-1-a',
            at: epochMillis(start + second * 1000),
            celsius: celsius(20 + (second % 97)),
            quality: second % 7 === 0 ? ('suspect' as const) : ('good' as const),
          }));
          const { store } = lab.running;
          await store.apply({ readings, ruleState: {}, alongside: [], offset: store.offset() + 1 });
          const span = { from: epochMillis(start + offset * 1000), to: epochMillis(start + 4 * 3_600_000) };
          const fine = await store.buckets({ probe: 'pot-1-a', ...span, points: 242 });
          const coarse = await store.buckets({ probe: 'pot-1-a', ...span, points: 49 });
          const wide = widenBuckets(fine, 5 * MINUTE, span.from);
          await lab.close();
          expect(wide.map(({ mean: _, ...bucket }) => bucket)).toEqual(
            coarse.map(({ mean: _, ...bucket }) => bucket),
          );
          for (const [index, { mean }] of wide.entries())
            expect(mean).toBeCloseTo(coarse[index]?.mean ?? 0, 9);
        },
      ),
      { numRuns: 15 },
    );
  });
});

describe('a store that remembers', () => {
  it('is read once for buckets of one width, and again for another width or span', async () => {
    const lab = labForTests();
    await lab.measure('pot-1-a', 80);
    let asked = 0;
    const buckets = cacheBuckets({
      ...lab.running.store,
      buckets: (query) => {
        asked += 1;
        return lab.running.store.buckets(query);
      },
    });
    const span = {
      from: epochMillis(lab.running.now() - 60 * MINUTE),
      to: epochMillis(lab.running.now() + 1),
    };
    const [first, second] = [
      await buckets({ probe: 'pot-1-a', ...span, points: 62 }),
      await buckets({ probe: 'pot-1-a', ...span, points: 63 }),
    ];
    expect(second).toBe(first);
    expect(asked).toBe(1);
    await buckets({ probe: 'pot-1-a', ...span, points: 10 });
    await buckets({ probe: 'pot-1-a', ...span, from: epochMillis(span.from - MINUTE), points: 63 });
    expect(asked).toBe(3);
    await lab.close();
  });
});
