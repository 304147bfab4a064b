// Weighted least squares from running sums, for fits that forget: only the sums are kept, never the readings.
// Forgetting makes the usual covariance wrong by up to a factor of two, so the sums of the squared weights are kept
// too and the covariance is inv(X'WX) X'W²X inv(X'WX), the general one for weights that are not 1/variance.

/** Sums over rows [1, u, j] against y; plain JSON. */
export interface Moments {
  readonly one: number;
  readonly u: number;
  readonly j: number;
  readonly uu: number;
  readonly uj: number;
  readonly jj: number;
  readonly y: number;
  readonly uy: number;
  readonly jy: number;
  readonly yy: number;
}

export const NO_MOMENTS: Moments = { one: 0, u: 0, j: 0, uu: 0, uj: 0, jj: 0, y: 0, uy: 0, jy: 0, yy: 0 };

/** The same rows seen from an origin moved by (du, dj), all weights times `keep`. */
export const shiftMoments = (m: Moments, du: number, dj: number, keep: number): Moments => ({
  one: keep * m.one,
  u: keep * (m.u - du * m.one),
  j: keep * (m.j - dj * m.one),
  uu: keep * (m.uu - 2 * du * m.u + du * du * m.one),
  uj: keep * (m.uj - dj * m.u - du * m.j + du * dj * m.one),
  jj: keep * (m.jj - 2 * dj * m.j + dj * dj * m.one),
  y: keep * m.y,
  uy: keep * (m.uy - du * m.y),
  jy: keep * (m.jy - dj * m.y),
  yy: keep * m.yy,
});

/** Adds a row of weight 1 at the origin. */
export const withRowAtOrigin = (m: Moments, y: number): Moments => ({
  ...m,
  one: m.one + 1,
  y: m.y + y,
  yy: m.yy + y * y,
});

export interface MomentsFit {
  /** Coefficients of [1, u, j], or of [1, u]. */
  readonly coefficients: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  /** Standard deviation of a reading about the fit, not less than the floor. */
  readonly noise: number;
  readonly degreesOfFreedom: number;
}

type Rows = readonly (readonly number[])[];

const normal = (m: Moments, size: 2 | 3): Rows =>
  size === 2
    ? [
        [m.one, m.u],
        [m.u, m.uu],
      ]
    : [
        [m.one, m.u, m.j],
        [m.u, m.uu, m.uj],
        [m.j, m.uj, m.jj],
      ];

/**
 * Inverse of the normal matrix, by way of the centred sums, which keep the digits that the plain ones lose; null when
 * a column is as good as a multiple of the others.
 */
function bread(m: Moments, size: 2 | 3): Rows | null {
  const [meanU, meanJ] = [m.u / m.one, m.j / m.one];
  const uu = m.uu - m.u * meanU;
  if (!(uu > 1e-12)) return null;
  if (size === 2)
    return [
      [1 / m.one + (meanU * meanU) / uu, -meanU / uu],
      [-meanU / uu, 1 / uu],
    ];
  const [uj, jj] = [m.uj - m.u * meanJ, m.jj - m.j * meanJ];
  const determinant = uu * jj - uj * uj;
  if (!(jj > 1e-12 && determinant > 1e-9 * uu * jj)) return null;
  const [a, b, c] = [jj / determinant, -uj / determinant, uu / determinant];
  const [first, second] = [-(a * meanU + b * meanJ), -(b * meanU + c * meanJ)];
  return [
    [1 / m.one - first * meanU - second * meanJ, first, second],
    [first, a, b],
    [second, b, c],
  ];
}

function product(left: Rows, right: Rows): number[][] {
  const columns = right[0]?.length ?? 0;
  const rows: number[][] = [];
  for (const row of left) {
    const sums: number[] = [];
    for (let column = 0; column < columns; column += 1) {
      let sum = 0;
      for (let i = 0; i < row.length; i += 1) sum += (row[i] ?? 0) * (right[i]?.[column] ?? 0);
      sums.push(sum);
    }
    rows.push(sums);
  }
  return rows;
}

/** Least squares of y on [1, u] (size 2) or [1, u, j] (size 3); null when the columns are one another's multiples. */
export function fitMoments(
  weights: Moments,
  squaredWeights: Moments,
  size: 2 | 3,
  noiseFloor: number,
): MomentsFit | null {
  const inverse = bread(weights, size);
  if (inverse === null) return null;
  const right = [[weights.y], [weights.uy], [weights.jy]].slice(0, size);
  const coefficients = product(inverse, right).map(([value = 0]) => value);
  const filling = product(inverse, normal(squaredWeights, size));
  const degreesOfFreedom = filling.reduce((rest, row, i) => rest - (row[i] ?? 0), weights.one);
  if (!(degreesOfFreedom > 0)) return null;
  const squares = coefficients.reduce((rest, value, i) => rest - value * (right[i]?.[0] ?? 0), weights.yy);
  const variance = Math.max(squares / degreesOfFreedom, noiseFloor * noiseFloor);
  return {
    coefficients,
    covariance: product(filling, inverse).map((row) => row.map((value) => value * variance)),
    noise: Math.sqrt(variance),
    degreesOfFreedom,
  };
}

/** Standard error of gradient · coefficients. */
export function standardErrorAlong(fit: MomentsFit, gradient: readonly number[]): number {
  let sum = 0;
  fit.covariance.forEach((row, i) => {
    row.forEach((value, k) => {
      sum += (gradient[i] ?? 0) * value * (gradient[k] ?? 0);
    });
  });
  return Math.sqrt(Math.max(0, sum));
}
