// How long readings stay, what the store refused, which copies there are: as it crosses the wire.

import { type Static, Type } from 'typebox';
import { STATION_KINDS } from '../../lab/station-kinds.ts';
import { closed, Instant, Nullable } from './schema-parts.ts';

/** A month sheet and every pattern that waits still need their readings. */
const LEAST_DAYS = 40;
const MOST_DAYS = 36_500;
const Days = Nullable(
  Type.Integer({ minimum: LEAST_DAYS, maximum: MOST_DAYS, description: 'Days; null: for ever' }),
);

export const RetentionBody = Type.Object(
  {
    kinds: Type.Array(
      Type.Object({ kind: Type.Enum([...STATION_KINDS]), readingsDays: Days, hoursDays: Days }, closed),
      { maxItems: STATION_KINDS.length },
    ),
  },
  closed,
);
export type RetentionBody = Static<typeof RetentionBody>;

export const ExpiringView = Type.Array(
  Type.Object({
    kind: Nullable(Type.Enum([...STATION_KINDS])),
    probe: Type.String(),
    readings: Type.Integer({ description: 'How many would be deleted' }),
    oldest: Nullable(Instant),
  }),
);
export type ExpiringView = Static<typeof ExpiringView>;

export const StoredReadingsView = Type.Object({
  retention: Nullable(
    Type.Object({
      kinds: Type.Array(
        Type.Object({
          kind: Type.Enum([...STATION_KINDS]),
          readingsDays: Nullable(Type.Integer()),
          hoursDays: Nullable(Type.Integer()),
        }),
      ),
      beginsAt: Nullable(Instant),
      expiring: ExpiringView,
    }),
  ),
  serverRetention: Nullable(
    Type.Object(
      {
        server: Type.String({ description: 'Address and database' }),
        keeps: Type.Enum(['forever', 'days', 'unknown']),
        days: Nullable(Type.Number({ description: 'Where it keeps them for days' })),
      },
      { description: 'By the policy of an InfluxDB server; null where readings lie in the data folder' },
    ),
  ),
  refused: Type.Array(
    Type.Object({ probe: Type.String(), at: Instant, celsius: Type.Number(), reason: Type.String() }),
    { description: 'Readings that the store refused, newest first, at most 100' },
  ),
  copies: Type.Array(
    Type.Object({
      at: Instant,
      file: Type.String(),
      megabytes: Nullable(Type.Number()),
      fault: Nullable(Type.String()),
    }),
    { description: 'Newest first, at most 10' },
  ),
});
export type StoredReadingsView = Static<typeof StoredReadingsView>;

export const SentAgainView = Type.Object({ count: Type.Integer() });
