// A data folder as the lab process opens it: lab and readings in one database, a journal and its reader. It goes
// with `close`. With `withPot`, the pot `pot` is there with its probe `pot-wax` at the gateway `gw`.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Journal, TailReader } from '../collector/journal/journal.ts';
import { openJournal } from '../collector/journal/open-journal.ts';
import { tailReader } from '../collector/journal/tail-reader.ts';
import { openSqliteStore } from '../collector/store/sqlite-store.ts';
import type { Store } from '../collector/store/store.ts';
import { type LabDatabase, openDatabase } from '../lab/database/database.ts';
import type { LabRepository } from '../lab/database/lab-repository.ts';
import { openLabRepository } from '../lab/database/sqlite-lab-repository.ts';
import type { EpochMillis } from '../wax/units.ts';

export interface DataFolder {
  readonly database: LabDatabase;
  readonly repository: LabRepository;
  readonly journal: Journal;
  readonly reader: TailReader;
  readonly store: Store;
  readonly close: () => Promise<void>;
}

export const openDataFolder = async (now: EpochMillis, { withPot = false } = {}): Promise<DataFolder> => {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-data-'));
  const database = openDatabase(join(folder, 'lab.db'));
  const repository = openLabRepository(database, () => now);
  if (withPot) {
    repository.saveStation({ id: 'pot', name: 'Pot', kind: 'melt-pot', wax: 'inlay-type-2' });
    const calibration = { correction_celsius: 0, uncertainty_celsius: 0.2 };
    repository.saveProbe({ id: 'pot-wax', gateway: 'gw', station: 'pot', ...calibration });
  }
  const journal = await openJournal(join(folder, 'journal'));
  const reader = tailReader(join(folder, 'journal'));
  const store = openSqliteStore(database);
  return {
    database,
    repository,
    journal,
    reader,
    store,
    close: async () => {
      await journal.close();
      reader.close();
      await store.close();
      database.close();
      rmSync(folder, { recursive: true });
    },
  };
};
