// The embedded store: readings, rollups, rule state, what rides alongside and the journal offset in one SQLite
// file, each batch in one transaction.

import type { LabDatabase } from '../../lab/database.ts';
import { problemOf } from '../../wax/problem-error.ts';
import type { Problem } from '../../wax/result.ts';
import { failing, working } from '../part-health.ts';
import { openProgress } from './progress.ts';
import { openSeriesReader } from './series-reader.ts';
import { openSeriesWriter } from './series-tables.ts';
import type { Store } from './store.ts';

/** The journal consumer that every store has. */
export const PIPELINE = 'pipeline';

export function openSqliteStore(database: LabDatabase): Store {
  const progress = openProgress(database);
  const series = openSeriesWriter(database);
  const connection = database.reader();
  const reader = openSeriesReader(connection);
  const size = connection
    .prepare<[], number>('SELECT page_count * page_size FROM pragma_page_count, pragma_page_size')
    .pluck();
  // What an earlier process committed may lie in the system's memory only; this forces it to disk.
  database.transaction(() => progress.setOffset(PIPELINE, progress.offset(PIPELINE)));
  let offsetOnDisk = progress.offset(PIPELINE);
  let failure: Problem | null = null;
  return {
    apply: async ({ readings, ruleState, alongside, isRecomputable = false, offset }) => {
      try {
        const commit = isRecomputable ? database.recomputable : database.transaction;
        commit(() => {
          series.add(readings);
          progress.saveRuleState(ruleState);
          for (const write of alongside) write(database.writer);
          progress.setOffset(PIPELINE, offset);
        });
        if (!isRecomputable) offsetOnDisk = offset;
        failure = null;
      } catch (error) {
        series.undone();
        failure = problemOf(error, 'commit-failed');
        throw error;
      }
    },
    offset: () => progress.offset(PIPELINE),
    keepFrom: () => offsetOnDisk,
    ruleState: progress.ruleState,
    buckets: async (query) => reader.buckets(query),
    raw: async (query) => reader.raw(query),
    celsiusAt: reader.celsiusAt,
    latest: async () => reader.latest(),
    health: async () => {
      if (failure !== null) return failing(failure);
      return working('embedded', { size_megabytes: Math.round((size.get() ?? 0) / 1e5) / 10 });
    },
    close: async () => {
      connection.close();
    },
  };
}
