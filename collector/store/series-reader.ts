// Answers questions about readings from a read-only connection of its own, so that neither a chart nor a report
// holds up the writer. Buckets start at whole multiples of their width; see bucket-width.ts for the edges.

import type { Connection, Statement } from '../../lab/database.ts';
import type { Quality, Reading } from '../../lab/reading.ts';
import type { Celsius, EpochMillis } from '../../wax/units.ts';
import { bucketPlan, segments, type Tier } from './bucket-width.ts';
import { QUALITY_CODES } from './series-tables.ts';
import type { SeriesBucket, ReadingsQuery } from './store.ts';

const QUALITIES = new Map(Object.entries(QUALITY_CODES).map(([quality, code]) => [code, quality as Quality]));

const span = (table: string, columns: string): string =>
  `SELECT at, ${columns} FROM ${table} WHERE series = @series AND at >=`;
const SOURCES: Readonly<Record<Tier, string>> = {
  raw: span(
    'reading',
    'celsius AS low, celsius AS high, min(celsius, 1e12) AS total, 1 AS count, quality > 0 AS doubtful',
  ),
  minute: span('reading_minute', 'low, high, total, count, doubtful'),
  hour: span('reading_hour', 'low, high, total, count, doubtful'),
};

type ReadingRow = readonly [probe: string, at: number, celsius: number, quality: number];
type BucketRow = readonly [
  at: number,
  low: number,
  high: number,
  total: number,
  count: number,
  doubtful: number,
];

const toReading = ([probe, at, celsius, quality]: ReadingRow): Reading => ({
  probe,
  at: at as EpochMillis,
  celsius: celsius as Celsius,
  quality: QUALITIES.get(quality) ?? 'suspect',
});

export interface SeriesReader {
  readonly buckets: (query: ReadingsQuery) => readonly SeriesBucket[];
  readonly raw: (query: Omit<ReadingsQuery, 'points'> & { readonly limit: number }) => readonly Reading[];
  readonly latest: () => readonly Reading[];
  readonly celsiusAt: (probe: string, at: number) => number | null;
}

export function openSeriesReader(connection: Connection): SeriesReader {
  const findSeries = connection.prepare<[string], number>('SELECT id FROM series WHERE probe = ?').pluck();
  const newest = connection
    .prepare<[], ReadingRow>(
      `SELECT probe, at, celsius, quality FROM series JOIN reading ON reading.series = series.id
       AND at = (SELECT max(at) FROM reading WHERE series = series.id) ORDER BY probe`,
    )
    .raw();
  const rows = connection
    .prepare<{ series: number; from: number; to: number; limit: number }, ReadingRow>(
      `SELECT '', at, celsius, quality FROM reading WHERE series = @series AND at >= @from AND at < @to
       ORDER BY at LIMIT @limit`,
    )
    .raw();
  const exact = connection
    .prepare<[string, number], number>(
      'SELECT celsius FROM reading WHERE series = (SELECT id FROM series WHERE probe = ?) AND at = ?',
    )
    .pluck();
  // One statement for each sequence of tiers; there are only a handful.
  const statements = new Map<string, Statement<[Record<string, number>], BucketRow>>();
  const statementFor = (tiers: readonly Tier[]): Statement<[Record<string, number>], BucketRow> => {
    const shape = tiers.join();
    const prepared = statements.get(shape);
    if (prepared !== undefined) return prepared;
    const parts = tiers.map((tier, index) => `${SOURCES[tier]} @from${index} AND at < @to${index}`);
    const statement = connection
      .prepare<[Record<string, number>], BucketRow>(
        `SELECT max(at - ((at % @width) + @width) % @width, @from) AS start, min(low), max(high), sum(total),
           sum(count), sum(doubtful) FROM (${parts.join(' UNION ALL ')}) GROUP BY start ORDER BY start`,
      )
      .raw();
    statements.set(shape, statement);
    return statement;
  };

  return {
    buckets: (query) => {
      const series = findSeries.get(query.probe);
      const plan = bucketPlan(query);
      if (series === undefined || plan === null) return [];
      const { from, to, width } = plan;
      const parts = segments(from, to, width);
      const edges = parts.flatMap((part, index) => [
        [`from${index}`, part.from] as const,
        [`to${index}`, part.to] as const,
      ]);
      return statementFor(parts.map(({ tier }) => tier))
        .all({ series, width, from, ...Object.fromEntries(edges) })
        .map(([at, min, max, total, count, doubtful]) => {
          // Rounding of a long sum must not carry the mean of equal values past them.
          const mean = Math.min(max, Math.max(min, total / count));
          return { at: at as EpochMillis, min, max, mean, count, doubtful };
        });
    },
    raw: ({ probe, from, to, limit }) => {
      const series = findSeries.get(probe);
      if (series === undefined) return [];
      return rows.all({ series, from, to, limit }).map(([, ...row]): Reading => toReading([probe, ...row]));
    },
    latest: () => newest.all().map(toReading),
    celsiusAt: (probe, at) => exact.get(probe, Math.round(at)) ?? null,
  };
}
