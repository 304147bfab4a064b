// The last hour of a station, kept moving between loads: at most 60 buckets of a minute, gaps stay gaps.

import type { StationView, TrendPoint } from '../../api/schemas.ts';

const BUCKET_MILLIS = 60_000;
const SPAN_MILLIS = 3_600_000;

/** More than the noise of a probe. */
const TURN_CELSIUS = 0.5;

/**
 * Whether the newest reading has come back from where the line through the last minutes still goes: a pot that was switched
 * off half a minute ago is not rising.
 */
export const hasTurned = ({
  celsius,
  celsiusPerHour,
  trend,
}: Pick<StationView, 'celsius' | 'celsiusPerHour' | 'trend'>): boolean => {
  if (celsius === null || celsiusPerHour === null) return false;
  const latest = trend.slice(-2);
  return celsiusPerHour > 0
    ? latest.some(({ max }) => max - celsius > TURN_CELSIUS)
    : latest.some(({ min }) => celsius - min > TURN_CELSIUS);
};

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
