// The last hour of a station, kept moving between loads: at most 60 buckets of a minute, gaps stay gaps.

import type { TrendPoint } from '../../api/schemas.ts';

const BUCKET_MILLIS = 60_000;
const SPAN_MILLIS = 3_600_000;

/** Adds one reading; late ones and repeats change nothing that is drawn. */
export const appendTrend = (
  trend: readonly TrendPoint[],
  at: string | null,
  celsius: number | null,
): TrendPoint[] => {
  if (at === null || celsius === null) return [...trend];
  const instant = Date.parse(at);
  const start = Math.floor(instant / BUCKET_MILLIS) * BUCKET_MILLIS;
  const recent = trend.filter((point) => Date.parse(point.at) > instant - SPAN_MILLIS - BUCKET_MILLIS);
  const last = recent.at(-1);
  if (last && Date.parse(last.at) > start) return recent;
  if (last && start - Date.parse(last.at) < BUCKET_MILLIS)
    return [
      ...recent.slice(0, -1),
      {
        at: last.at,
        min: Math.min(last.min, celsius),
        max: Math.max(last.max, celsius),
        // Good enough for a line that the next load replaces: the newest value pulls the mean.
        mean: (last.mean + celsius) / 2,
      },
    ];
  return [...recent, { at: new Date(start).toISOString(), min: celsius, mean: celsius, max: celsius }];
};
