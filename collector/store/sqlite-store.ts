// The embedded store: readings, rule state, what rides alongside and the journal offset in one SQLite file, each batch
// in one transaction. Readings of hours that are over are sealed into packs.

import type { LabDatabase } from '../../lab/database/database.ts';
import { problemOf } from '../../wax/problem-error.ts';
import type { Problem } from '../../wax/result.ts';
import { failing, working } from '../part-health.ts';
import { openExpired } from './expired.ts';
import { openProgress } from './progress.ts';
import { expiryAt, openRetention } from './retention.ts';
import { DamagedReadings } from './sealed/damaged-readings.ts';
import { openSealer } from './sealer.ts';
import { openSeriesReader } from './series-reader.ts';
import { openSeriesWriter } from './series-tables.ts';
import type { Store } from './store.ts';

/** The journal consumer that every store has. */
export const PIPELINE = 'pipeline';

/** A damaged pack holds up neither other probes nor deletion; any other error does. */
function requireDamaged(error: unknown): DamagedReadings {
  if (error instanceof DamagedReadings) return error;
  throw error;
}

export function openSqliteStore(database: LabDatabase): Store {
  const progress = openProgress(database);
  const series = openSeriesWriter(database);
  const connection = database.reader();
  const reader = openSeriesReader(connection);
  const sealer = openSealer(database);
  const retention = openRetention(database);
  const expired = openExpired(database);
  let isClosing = false;
  const size = connection
    .prepare<[], number>('SELECT page_count * page_size FROM pragma_page_count, pragma_page_size')
    .pluck();
  // What an earlier process committed may lie in the system's memory only; this forces it to disk.
  database.transaction(() => progress.setOffset(PIPELINE, progress.offset(PIPELINE)));
  let offsetOnDisk = progress.offset(PIPELINE);
  let failure: Problem | null = null;
  let sealingFailure: Problem | null = null;
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
    buckets: reader.buckets,
    raw: reader.raw,
    celsiusAt: reader.celsiusAt,
    tidy: async (now, kindOf) => {
      try {
        const damaged = await sealer.seal(now).then(() => null, requireDamaged);
        const isClockSteady = retention.isClockSteady(now);
        const beginsAt = retention.beginsAt();
        if (isClockSteady && beginsAt !== null && now >= beginsAt)
          await expired.remove(expiryAt(retention.kinds(), now, kindOf), () => isClosing);
        if (damaged !== null) throw damaged;
        sealingFailure = null;
      } catch (error) {
        sealingFailure = problemOf(error, 'commit-failed');
        throw error;
      }
    },
    setAside: null,
    serverRetention: null,
    retention: { ...retention, expiring: (kinds, now, kindOf) => expired.find(expiryAt(kinds, now, kindOf)) },
    health: async () => {
      const current = failure ?? sealingFailure;
      if (current !== null) return failing(current);
      return working('embedded', { size_megabytes: Math.round((size.get() ?? 0) / 1e5) / 10 });
    },
    close: async () => {
      isClosing = true;
      await sealer.stop();
      connection.close();
    },
  };
}
