import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chanceOf, commonFactors, type EndedPattern } from './remakes.ts';

const ended = (isRemade: boolean, factors: EndedPattern['factors']): EndedPattern => ({ isRemade, factors });

describe('the chance of so many remakes', () => {
  it.each([
    [3, 3, 3, 6, 1 / 20],
    [4, 4, 5, 10, 5 / 210],
    [0, 5, 2, 10, 1],
    [1, 1, 1, 1, 1],
  ])('is that of Fisher: %d of %d where %d of %d were remade', (remade, of, allRemade, all, chance) => {
    expect(chanceOf(remade, of, allRemade, all)).toBeCloseTo(chance, 10);
  });

  it('falls with every further remake, and is never over one', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 30 }), fc.integer({ min: 1, max: 30 }), (of, more) => {
        const all = of + more;
        const chances = Array.from({ length: Math.min(of, 10) + 1 }, (_, remade) =>
          chanceOf(remade, of, Math.min(all, 10), all),
        );
        expect(chances[0]).toBeLessThanOrEqual(1);
        expect(
          chances.every((chance, index) => index === 0 || chance <= (chances[index - 1] ?? 0) + 1e-12),
        ).toBe(true);
      }),
    );
  });
});

describe('what remakes had in common', () => {
  const patterns = [
    ...Array.from({ length: 4 }, () => ended(true, { lot: 'X', softening: 'flame' })),
    ...Array.from({ length: 1 }, () => ended(true, { lot: 'Y', softening: 'bath' })),
    ...Array.from({ length: 2 }, () => ended(false, { lot: 'X', softening: 'flame' })),
    ...Array.from({ length: 6 }, () => ended(false, { lot: 'Y', softening: 'flame' })),
    ...Array.from({ length: 7 }, () => ended(false, { lot: 'Y' })),
  ];

  it('is the lot that four of five remakes had, with the chance of it', () => {
    const [first, ...others] = commonFactors(patterns);
    expect(first).toMatchObject({ name: 'lot', value: 'X', remade: 4, of: 6, otherRemade: 1, otherOf: 14 });
    expect(first?.chance).toBeCloseTo(chanceOf(4, 6, 5, 20), 12);
    expect(first?.chance).toBeLessThan(0.02);
    expect(others).toEqual([]);
  });

  it('is nothing where no pattern was remade, or all had the same', () => {
    expect(commonFactors(patterns.filter(({ isRemade }) => !isRemade))).toEqual([]);
    expect(commonFactors(patterns.map(({ isRemade }) => ended(isRemade, { lot: 'X' })))).toEqual([]);
  });
});
