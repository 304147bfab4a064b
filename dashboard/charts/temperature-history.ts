// A station over a span of time: the mean of each probe, the band from its lowest to its highest, the working window, the
// ceiling, alarms; and the same span in figures for those who do not see the chart. Pure.

import type { ReadingsView, StationView } from '../api/schemas.ts';
import { type Chart, type ChartEvent, type ChartFormats, toUnit } from './chart.ts';
import { lineWithGaps } from './line-with-gaps.ts';
import { timeAxis } from './time-axis.ts';
import { temperatureAxis } from './value-axis.ts';

/** A pause of more buckets than this is a gap. */
const GAP_BUCKETS = 2.5;
/** Probes send every few seconds to a minute; a shorter pause than this is none. */
const LEAST_GAP_MILLIS = 150_000;

const gapMillis = ({ bucketSeconds }: ReadingsView): number =>
  Math.max(LEAST_GAP_MILLIS, bucketSeconds * 1000 * GAP_BUCKETS);

export interface TemperatureHistory {
  readonly station: Pick<StationView, 'windowLow' | 'windowHigh' | 'ceiling'>;
  readonly readings: readonly ReadingsView[];
  /** Those outside the span are left out. */
  readonly events: readonly ChartEvent[];
  /** Epoch milliseconds. */
  readonly from: number;
  readonly to: number;
}

export const temperatureHistoryChart = (
  { station, readings, events, from, to }: TemperatureHistory,
  formats: ChartFormats,
  words: { readonly label: string; readonly ceiling: string },
): Chart => {
  const { windowLow, windowHigh, ceiling } = station;
  const toReader = (celsius: number): number => toUnit(celsius, formats);
  const limits = [windowLow, windowHigh, ceiling].flatMap((limit) => (limit ? [limit.value] : []));
  const extremes = readings.flatMap(({ buckets }) => buckets.flatMap(({ min, max }) => [min, max]));
  return {
    label: words.label,
    x: timeAxis(from, to, formats),
    y: temperatureAxis([...limits, ...extremes], formats),
    window: windowHigh
      ? { low: windowLow ? toReader(windowLow.value) : null, high: toReader(windowHigh.value) }
      : null,
    limits: ceiling ? [{ y: toReader(ceiling.value), text: words.ceiling }] : [],
    series: readings.map((ofProbe, style) => ({
      name: ofProbe.probe,
      ...lineWithGaps(ofProbe.buckets, gapMillis(ofProbe), toReader),
      dots: [],
      style,
    })),
    ranges: [],
    events: events.filter(({ x }) => x >= from && x <= to),
  };
};

export interface SpanFigures {
  /** Degrees Celsius. */
  readonly min: number;
  readonly max: number;
  readonly mean: number;
  readonly gaps: number;
  readonly count: number;
}

/** Over all buckets; null when there is nothing. */
export const spanFigures = (readings: ReadingsView): SpanFigures | null => {
  const { buckets } = readings;
  if (buckets.length === 0) return null;
  const count = buckets.reduce((sum, bucket) => sum + bucket.count, 0);
  const total = buckets.reduce((sum, bucket) => sum + bucket.mean * bucket.count, 0);
  const limit = gapMillis(readings);
  const gaps = buckets.filter((bucket, index) => {
    const previous = buckets[index - 1];
    return previous !== undefined && Date.parse(bucket.at) - Date.parse(previous.at) > limit;
  }).length;
  return {
    min: Math.min(...buckets.map((bucket) => bucket.min)),
    max: Math.max(...buckets.map((bucket) => bucket.max)),
    mean: total / count,
    gaps,
    count,
  };
};
