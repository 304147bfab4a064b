// The store over InfluxDB: the series lie there, everything else in SQLite. A batch is applied when SQLite has it,
// so alarms work and nothing is lost while the server is away; a query then fails with StoreAway.
// A doubled reading is written again with the same tags and instant, which changes nothing on the server.

import type { LabDatabase } from '../../lab/database/database.ts';
import type { Quality, Reading } from '../../lab/reading.ts';
import { problemOf } from '../../wax/problem-error.ts';
import { type Problem, problem } from '../../wax/result.ts';
import type { Celsius, EpochMillis } from '../../wax/units.ts';
import { failing, working } from '../part-health.ts';
import { timeSpan } from './influx-buckets.ts';
import { type RetryDelays, startInfluxFeed } from './influx-feed.ts';
import { openInfluxRollups } from './influx-rollups.ts';
import { type InfluxServer, type InfluxSetting, MEASUREMENT, openInfluxServer } from './influx-server.ts';
import { openInfluxTables } from './influx-tables.ts';
import { openProgress } from './progress.ts';
import { PIPELINE } from './sqlite-store.ts';
import type { ReadingsQuery, Store } from './store.ts';

const RETRY: RetryDelays = { firstMillis: 500, longestMillis: 60_000 };

export function openInfluxStore(
  database: LabDatabase,
  setting: InfluxSetting,
  retry: RetryDelays = RETRY,
): Store {
  const progress = openProgress(database);
  const tables = openInfluxTables(database);
  const server = openInfluxServer(setting);
  const rollups = openInfluxRollups(database, server);
  const feed = startInfluxFeed(server, tables, retry);
  let failure: Problem | null = null;
  return {
    apply: async ({ readings, ruleState, alongside, offset }) => {
      try {
        database.transaction(() => {
          tables.add(readings);
          progress.saveRuleState(ruleState);
          for (const write of alongside) write(database.writer);
          progress.setOffset(PIPELINE, offset);
        });
        failure = null;
      } catch (error) {
        failure = problemOf(error, 'commit-failed');
        throw error;
      }
      feed.wake();
    },
    offset: () => progress.offset(PIPELINE),
    keepFrom: () => progress.offset(PIPELINE),
    ruleState: progress.ruleState,
    buckets: rollups.buckets,
    raw: (query) => raw(server, query),
    celsiusAt: tables.celsiusAt,
    // The server compresses its readings itself.
    tidy: rollups.rollUp,
    // The server's own policy sets how long they stay.
    retention: null,
    serverRetention: server.retention,
    setAside: {
      readings: tables.setAside,
      sendAgain: () => {
        const count = tables.sendAgain();
        feed.wake();
        return count;
      },
    },
    health: async () => {
      if (failure !== null) return failing(failure);
      const [waiting, refused, current] = [tables.waiting(), tables.refused(), feed.problem()];
      const problems = [
        ...(current === null ? [] : [current]),
        ...(waiting > 0 ? [problem('readings-waiting', { count: waiting })] : []),
        ...(refused > 0 ? [problem('readings-set-aside', { count: refused })] : []),
      ];
      // What is set aside is missing in every chart until a person has it sent again.
      return current === null && refused === 0
        ? { ...working('influx', { server: server.name }), problems }
        : failing(...problems);
    },
    close: feed.close,
  };
}

async function raw(
  server: InfluxServer,
  query: Omit<ReadingsQuery, 'points'> & { readonly limit: number },
): Promise<readonly Reading[]> {
  const series = await server.query(
    `SELECT "celsius", "quality" FROM "${MEASUREMENT}" WHERE ${server.seriesOf(query.probe)} AND ${timeSpan(query.from, query.to)}
     ORDER BY time ASC LIMIT ${Math.floor(query.limit)}`,
  );
  return (series?.values ?? []).map(([at, celsius, quality]) => ({
    probe: query.probe,
    at: Number(at) as EpochMillis,
    celsius: Number(celsius) as Celsius,
    quality: (quality ?? 'good') as Quality,
  }));
}
