import fc from 'fast-check';
import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import {
  fitMoments,
  type Moments,
  NO_MOMENTS,
  shiftMoments,
  standardErrorAlong,
  withRowAtOrigin,
} from './weighted-moments.ts';

const hundredths = (min: number, max: number) =>
  fc.integer({ min: min * 100, max: max * 100 }).map((value) => value / 100);
const step = fc.record({ du: hundredths(0.05, 0.5), dj: hundredths(-3, 3), y: hundredths(-5, 5) });
const KEEP = 0.9;

/** Sums with forgetting, and the rows that they stand for. */
function both(steps: readonly { du: number; dj: number; y: number }[]) {
  let [weights, squared]: [Moments, Moments] = [NO_MOMENTS, NO_MOMENTS];
  let rows: { w: number; u: number; j: number; y: number }[] = [];
  for (const { du, dj, y } of steps) {
    weights = withRowAtOrigin(shiftMoments(weights, du, dj, KEEP), y);
    squared = withRowAtOrigin(shiftMoments(squared, du, dj, KEEP * KEEP), y);
    rows = rows.map((row) => ({ ...row, w: row.w * KEEP, u: row.u - du, j: row.j - dj }));
    rows.push({ w: 1, u: 0, j: 0, y });
  }
  return { weights, squared, rows };
}

describe('weighted moments', () => {
  it('fit as the weighted least squares of all the rows does, by a general solver', () => {
    fc.assert(
      fc.property(fc.array(step, { minLength: 8, maxLength: 60 }), (steps) => {
        const { weights, squared, rows } = both(steps);
        const fit = fitMoments(weights, squared, 3, 0);
        if (fit === null) return true;
        const root = rows.map(({ w }) => Math.sqrt(w));
        const design = new Matrix(
          rows.map(({ u, j }, i) => [1, u, j].map((value) => value * (root[i] ?? 0))),
        );
        const right = Matrix.columnVector(rows.map(({ y }, i) => y * (root[i] ?? 0)));
        const direct = solve(design, right, true).to1DArray();
        return direct.every(
          (value, i) => Math.abs(value - (fit.coefficients[i] ?? 0)) < 1e-5 * (1 + Math.abs(value)),
        );
      }),
    );
  });

  it('with equal weights give the textbook error of a mean and of a slope', () => {
    let moments = NO_MOMENTS;
    const ys = [1, 3, 2, 5, 4, 6];
    for (const y of ys) moments = withRowAtOrigin(shiftMoments(moments, 1, 0, 1), y);
    const fit = fitMoments(moments, moments, 2, 0);
    // x = -5..0: Sxx 17.5, slope 31/35 = 0.885714; residual sum of squares 3.771429 over 4.
    expect(fit?.coefficients[1]).toBeCloseTo(31 / 35, 12);
    expect(fit?.degreesOfFreedom).toBeCloseTo(4, 12);
    expect(fit?.noise).toBeCloseTo(Math.sqrt(3.771429 / 4), 6);
    expect(fit === null ? 0 : standardErrorAlong(fit, [0, 1])).toBeCloseTo(Math.sqrt(3.771429 / 4 / 17.5), 6);
  });

  it('make no fit of columns that are the same', () => {
    const doubled = Array.from({ length: 20 }, (_, i) => ({ du: 0.1, dj: 0.2, y: i % 3 }));
    const { weights, squared } = both(doubled);
    expect(fitMoments(weights, squared, 3, 0)).toBeNull();
    expect(fitMoments(withRowAtOrigin(NO_MOMENTS, 1), withRowAtOrigin(NO_MOMENTS, 1), 2, 0)).toBeNull();
  });
});
