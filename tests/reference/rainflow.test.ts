// Rainflow counting against the worked example of ASTM E1049-85, clause 5.4.4, count by count, and against
// the counts that an independent open implementation (the Python package rainflow 2.1.2) gives.

import { describe, expect, it } from 'vitest';
import { type Cycle, rainflow, type RainflowOptions } from '../../wax/numbers/rainflow.ts';

const STANDARD = [-2, 1, -3, 5, -1, 3, -4, 4, -2];

const cyclesOf = (values: readonly number[], options?: RainflowOptions): readonly Cycle[] => {
  const result = rainflow(values, options);
  if (!result.ok) throw new Error(result.problem.code);
  return result.value;
};

const table = (cycles: readonly Cycle[]): Readonly<Record<number, number>> => {
  const counts: Record<number, number> = {};
  for (const { range, count } of cycles) counts[range] = (counts[range] ?? 0) + count;
  return counts;
};

const STANDARD_TABLE = { 3: 0.5, 4: 1.5, 6: 0.5, 8: 1, 9: 0.5 };

describe("The standard's history", () => {
  it('is counted swing by swing in the order of the standard', () => {
    expect(cyclesOf(STANDARD)).toEqual([
      { from: -2, to: 1, range: 3, mean: -0.5, count: 0.5 },
      { from: 1, to: -3, range: 4, mean: -1, count: 0.5 },
      { from: -1, to: 3, range: 4, mean: 1, count: 1 },
      { from: -3, to: 5, range: 8, mean: 1, count: 0.5 },
      { from: 5, to: -4, range: 9, mean: 0.5, count: 0.5 },
      { from: -4, to: 4, range: 8, mean: 0, count: 0.5 },
      { from: 4, to: -2, range: 6, mean: 1, count: 0.5 },
    ]);
  });

  it('gives the table of the standard, four cycles in all', () => {
    expect(table(cyclesOf(STANDARD))).toEqual(STANDARD_TABLE);
    expect(cyclesOf(STANDARD).reduce((sum, { count }) => sum + count, 0)).toBe(4);
  });

  it('gives the same table with every value doubled in time', () => {
    expect(table(cyclesOf(STANDARD.flatMap((value) => [value, value])))).toEqual(STANDARD_TABLE);
  });

  it('gives the same table between zeros whose ends are not counted', () => {
    expect(table(cyclesOf([0, ...STANDARD, 0], { countsEnds: false }))).toEqual(STANDARD_TABLE);
  });

  it('has a half cycle of 2 more at each end when the zeros are counted', () => {
    const cycles = cyclesOf([0, ...STANDARD, 0]);
    expect(cycles.map(({ count }) => count)).toEqual([0.5, 0.5, 0.5, 1, 0.5, 0.5, 0.5, 0.5, 0.5]);
    expect(cycles.map(({ mean }) => mean)).toEqual([-1, -0.5, -1, 1, 1, 0.5, 0, 1, -1]);
    expect(table(cycles)).toEqual({ ...STANDARD_TABLE, 2: 1 });
  });

  it('has the counts 0, 2, 0.5, 1 and 0.5 in bins of 2 with their upper edge closed', () => {
    const bins = [0, 0, 0, 0, 0];
    for (const { range, count } of cyclesOf(STANDARD)) {
      const bin = Math.ceil(range / 2) - 1;
      bins[bin] = (bins[bin] ?? 0) + count;
    }
    expect(bins).toEqual([0, 2, 0.5, 1, 0.5]);
  });
});

describe('Other histories', () => {
  it('gives the table that a general encyclopaedia prints with its example', () => {
    const history = [2, -14, 10, 0, 13, -9, 11, -8, 8, -9, 15, -4, 10, 0, 13, 0];
    const printed = { 10: 2, 13: 0.5, 16: 1.5, 17: 0.5, 19: 0.5, 20: 1, 22: 1, 29: 0.5 };
    expect(table(cyclesOf(history))).toEqual(printed);
  });

  it('gives the counts of the independent implementation for sixty random temperatures', () => {
    const history = [
      28, 22, 30, 19, 20, 21, 29, 19, 34, 24, 19, 20, 31, 31, 20, 25, 20, 31, 19, 21, 25, 19, 30, 19, 25, 19,
      22, 27, 31, 22, 21, 27, 23, 21, 24, 29, 21, 20, 19, 24, 33, 31, 28, 32, 32, 29, 27, 25, 23, 25, 20, 27,
      34, 33, 28, 32, 27, 20, 21, 34,
    ];
    expect(table(cyclesOf(history))).toEqual({
      2: 1,
      4: 2,
      5: 1,
      6: 3.5,
      8: 1.5,
      10: 1,
      11: 2.5,
      12: 2,
      13: 1,
      14: 1,
      15: 1.5,
    });
  });
});
