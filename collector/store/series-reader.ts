// Answers questions about readings from a read-only connection of its own, so that neither a chart nor a report
// holds up the writer. Buckets start at whole multiples of their width; see bucket-width.ts for the edges.

import type { Connection } from '../../lab/database/database.ts';
import type { Reading } from '../../lab/reading.ts';
import { type Celsius, type EpochMillis, MILLIS_PER_HOUR } from '../../wax/units.ts';
import { BucketSums } from './bucket-sums.ts';
import { bucketPlan } from './bucket-width.ts';
import type { HourFigures } from './sealed/hour-figures.ts';
import { openSeriesRowsReader } from './series-rows-reader.ts';
import { type SeriesSlice, seriesSlices } from './series-slices.ts';
import { qualityOf } from './series-tables.ts';
import type { ReadingsQuery, SeriesBucket } from './store.ts';

export interface SeriesReader {
  readonly buckets: (query: ReadingsQuery) => Promise<readonly SeriesBucket[]>;
  readonly raw: (
    query: Omit<ReadingsQuery, 'points'> & { readonly limit: number },
  ) => Promise<readonly Reading[]>;
  readonly celsiusAt: (probe: string, at: number) => number | null;
}

const isWhole = (hour: HourFigures, { from, to }: SeriesSlice): boolean =>
  hour.start >= from && hour.start + MILLIS_PER_HOUR <= to;
/** Where the readings are gone an hour counts when it begins in the slice. */
const begins = (hour: HourFigures, { from, to }: SeriesSlice): boolean =>
  hour.start >= from && hour.start < to;

export function openSeriesReader(connection: Connection): SeriesReader {
  const findSeries = connection.prepare<[string], number>('SELECT id FROM series WHERE probe = ?').pluck();
  const reader = openSeriesRowsReader(connection);

  const addSlice = (sums: BucketSums, series: number, slice: SeriesSlice, usesHours: boolean): void => {
    const { from, to, sealed, hasFresh } = slice;
    if (sealed === null) {
      sums.addRows(reader.freshRows(series, from, to));
      return;
    }
    if (usesHours && !hasFresh) {
      const whole = sealed.hours.filter((hour) => isWhole(hour, slice));
      for (const hour of whole) sums.addHour(hour);
      if (whole.length === sealed.hours.length) return;
      const cut = sealed.hours.filter((hour) => !whole.includes(hour));
      for (const { start } of cut) {
        const [cutFrom, cutTo] = [Math.max(start, from), Math.min(start + MILLIS_PER_HOUR, to)];
        if (cutFrom < cutTo) addDetailed(sums, series, { ...slice, from: cutFrom, to: cutTo });
      }
      return;
    }
    addDetailed(sums, series, slice);
  };
  const addDetailed = (sums: BucketSums, series: number, slice: SeriesSlice): void => {
    const { from, to, sealed } = slice;
    if (sealed === null || reader.sealedRows(series, from, to) !== null) {
      sums.addRows(reader.rows(series, from, to));
      return;
    }
    for (const hour of sealed.hours) if (begins(hour, slice)) sums.addHour(hour);
    sums.addRows(reader.freshRows(series, from, to));
  };

  return {
    buckets: async (query) => {
      const series = findSeries.get(query.probe);
      const plan = bucketPlan(query);
      if (series === undefined || plan === null) return [];
      const sums = new BucketSums(plan);
      const usesHours = plan.width % MILLIS_PER_HOUR === 0;
      for await (const slice of seriesSlices(reader, series, plan)) addSlice(sums, series, slice, usesHours);
      return sums.buckets();
    },
    raw: async ({ probe, from, to, limit }) => {
      const series = findSeries.get(probe);
      if (series === undefined) return [];
      const readings: Reading[] = [];
      for await (const slice of seriesSlices(reader, series, { from, to })) {
        const { times, values, qualities } = reader.rows(series, slice.from, slice.to);
        for (let index = 0; index < times.length && readings.length < limit; index += 1)
          readings.push({
            probe,
            at: (times[index] ?? 0) as EpochMillis,
            celsius: (values[index] ?? 0) as Celsius,
            quality: qualityOf(qualities[index] ?? 0),
          });
        if (readings.length >= limit) break;
      }
      return readings;
    },
    celsiusAt: (probe, at) => {
      const series = findSeries.get(probe);
      return series === undefined ? null : reader.celsiusAt(series, Math.round(at));
    },
  };
}
