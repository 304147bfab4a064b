// A line through buckets of readings, broken where nothing was measured. Pure.

import type { TrendPoint } from '../api/schemas.ts';
import type { BandPoint, ChartPoint } from './chart.ts';

/** Mean of each bucket and the band of its extremes; a pause of more than `gapMillis` between two is a gap. */
export const lineWithGaps = (
  buckets: readonly TrendPoint[],
  gapMillis: number,
  toReader: (celsius: number) => number,
): { readonly points: readonly ChartPoint[]; readonly band: readonly BandPoint[] } => {
  const points: ChartPoint[] = [];
  const band: BandPoint[] = [];
  let before = Number.POSITIVE_INFINITY;
  for (const { at, min, mean, max } of buckets) {
    const x = Date.parse(at);
    if (x - before > gapMillis) {
      const between = (x + before) / 2;
      points.push({ x: between, y: null });
      band.push({ x: between, low: null, high: null });
    }
    points.push({ x, y: toReader(mean) });
    band.push({ x, low: toReader(min), high: toReader(max) });
    before = x;
  }
  return { points, band };
};
