// The figures of hours beside the readings on an InfluxDB server, so that a chart of a year reads 8,760 points of a probe
// and not six million. They are worked out from what the server has, by queries and writes that every generation of it
// takes. An hour with a change that is not in its figures yet is due, and read from its readings until it is not.

import type { LabDatabase } from '../../lab/database/database.ts';
import { type EpochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import { type BucketPlan, bucketPlan } from './bucket-width.ts';
import { bucketsOfHours, bucketsOfReadings, mergeBuckets, newestBefore } from './influx-buckets.ts';
import type { InfluxServer } from './influx-server.ts';
import type { ReadingsQuery, SeriesBucket } from './store.ts';

/** An hour is worked out this long after its end: what gateways buffered has mostly arrived by then. */
const SETTLED_MILLIS = 10 * MILLIS_PER_MINUTE;
/** At most this many at a time, so that a long absence is caught up in pieces. */
const HOURS_A_LOOK = 2000;
/** Of what was stored before there were rollups, newest first. */
const EARLIER_MILLIS_A_LOOK = 7 * MILLIS_PER_DAY;
/** A query of more separate spans than this costs more than the scan that it saves. */
const MOST_SPANS = 12;

export interface InfluxRollups {
  /** Works out the hours that are over and due, and a week of those from before there were rollups. @throws StoreAway */
  readonly rollUp: (now: EpochMillis) => Promise<void>;
  /** @throws StoreAway */
  readonly buckets: (query: ReadingsQuery) => Promise<readonly SeriesBucket[]>;
}

interface Span {
  readonly from: number;
  readonly to: number;
}

const hourOf = (at: number): number => Math.floor(at / MILLIS_PER_HOUR) * MILLIS_PER_HOUR;
const hourAfter = (at: number): number => Math.ceil(at / MILLIS_PER_HOUR) * MILLIS_PER_HOUR;

export function openInfluxRollups(database: LabDatabase, server: InfluxServer): InfluxRollups {
  const { writer } = database;
  const dueBefore = writer.prepare<
    [number, number],
    { readonly hour: number; readonly probe: string; readonly changes: number }
  >('SELECT hour, probe, changes FROM influx_hour_due WHERE hour < ? ORDER BY hour LIMIT ?');
  const dueOf = writer
    .prepare<[string, number, number], number>(
      'SELECT hour FROM influx_hour_due WHERE probe = ? AND hour >= ? AND hour < ? ORDER BY hour',
    )
    .pluck();
  const done = writer.prepare<[number, string, number]>(
    'DELETE FROM influx_hour_due WHERE hour = ? AND probe = ? AND changes = ?',
  );
  const newProbes = writer
    .prepare<[], string>(
      'SELECT probe FROM influx_series WHERE probe NOT IN (SELECT probe FROM influx_rollup)',
    )
    .pluck();
  const earlierProbes = writer.prepare<[], { readonly probe: string; readonly from: number }>(
    'SELECT probe, complete_from AS "from" FROM influx_rollup WHERE complete_from > 0',
  );
  const completeFrom = writer
    .prepare<[string], number>('SELECT complete_from FROM influx_rollup WHERE probe = ?')
    .pluck();
  const setFrom = writer.prepare<[string, number]>('INSERT OR REPLACE INTO influx_rollup VALUES (?, ?)');
  const markDue = writer.prepare<[number, string]>('INSERT OR IGNORE INTO influx_hour_due VALUES (?, ?, 1)');

  /** What the server has of it so far has no figures; those of the present hour come whatever it still sends. */
  function begin(hour: number): void {
    database.transaction(() => {
      for (const probe of newProbes.all()) {
        markDue.run(hour, probe);
        setFrom.run(probe, hour);
      }
    });
  }

  async function workOut(probe: string, { from, to }: Span): Promise<boolean> {
    const hours = await bucketsOfReadings(server, probe, { from, to, width: MILLIS_PER_HOUR });
    return hours.length === 0 || (await server.writeHours(probe, hours)).kind === 'taken';
  }

  async function rollUpEarlier(): Promise<void> {
    for (const { probe, from } of earlierProbes.all()) {
      const newest = await newestBefore(server, probe, from);
      const next = newest === null ? 0 : Math.max(0, hourAfter(newest + 1) - EARLIER_MILLIS_A_LOOK);
      if (newest === null || (await workOut(probe, { from: next, to: from }))) setFrom.run(probe, next);
    }
  }

  return {
    rollUp: async (at) => {
      begin(hourOf(at));
      const over = hourOf(at - SETTLED_MILLIS);
      // What changed meanwhile is still due; what the server refuses is tried again with the next look.
      for (const { hour, probe, changes } of dueBefore.all(over, HOURS_A_LOOK))
        if (await workOut(probe, { from: hour, to: hour + MILLIS_PER_HOUR })) done.run(hour, probe, changes);
      await rollUpEarlier();
    },
    buckets: async (query) => {
      const plan = bucketPlan(query);
      if (plan === null) return [];
      const { probe } = query;
      const spans = spansOf(plan, completeFrom.get(probe) ?? plan.to, (from, to) =>
        dueOf.all(probe, from, to),
      );
      const parts: SeriesBucket[] = [];
      for (const { isRolledUp, ...span } of spans) {
        const read = isRolledUp ? bucketsOfHours : bucketsOfReadings;
        parts.push(...(await read(server, probe, { ...span, width: plan.width })));
      }
      return mergeBuckets(parts, plan);
    },
  };
}

/** The plan cut into spans of whole hours with figures, and of readings; readings alone where that spares nothing. */
function spansOf(
  { from, to, width }: BucketPlan,
  completeFrom: number,
  dueHours: (from: number, to: number) => readonly number[],
): readonly (Span & { readonly isRolledUp: boolean })[] {
  const readings = [{ from, to, isRolledUp: false }];
  if (width % MILLIS_PER_HOUR !== 0) return readings;
  const first = Math.max(hourAfter(from), completeFrom);
  const end = hourOf(to);
  if (first >= end) return readings;
  const spans: (Span & { readonly isRolledUp: boolean })[] = [];
  const add = (span: Span, isRolledUp: boolean): void => {
    const last = spans.at(-1);
    if (span.from >= span.to) return;
    if (last !== undefined && last.isRolledUp === isRolledUp)
      spans[spans.length - 1] = { ...last, to: span.to };
    else spans.push({ ...span, isRolledUp });
  };
  add({ from, to: first }, false);
  let reached = first;
  for (const hour of dueHours(first, end)) {
    add({ from: reached, to: hour }, true);
    add({ from: hour, to: hour + MILLIS_PER_HOUR }, false);
    reached = hour + MILLIS_PER_HOUR;
  }
  add({ from: reached, to: end }, true);
  add({ from: end, to }, false);
  return spans.length > MOST_SPANS ? readings : spans;
}
