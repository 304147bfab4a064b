// What lies in the data folder, opened: the database with the lab and its archives, the store, the reading end of the
// journal.

import { join } from 'node:path';
import { type AlarmArchive, openAlarmArchive } from '../../alerts/notices/alarm-archive.ts';
import { ruleFigures } from '../../alerts/watch/engine/rule-figures.ts';
import type { TailReader } from '../../collector/journal/journal.ts';
import { tailReader } from '../../collector/journal/tail-reader.ts';
import { openQuarantineTable, type QuarantineTable } from '../../collector/quarantine-table.ts';
import { openStore } from '../../collector/store/open-store.ts';
import type { Store } from '../../collector/store/store.ts';
import type { LabDatabase } from '../../lab/database/database.ts';
import { closeToOthers } from '../../lab/database/durable-file.ts';
import { lockFolder } from '../../lab/database/folder-lock.ts';
import { type ConnectionSettings, openConnectionSettings } from '../../lab/database/connection-settings.ts';
import { type GroupLinkTable, openGroupLinkTable } from '../../lab/group/group-link-table.ts';
import { type GroupOfferTable, openGroupOfferTable } from '../../lab/group/group-offer-table.ts';
import { type EntryRecord, openEntryRecord } from '../../lab/database/entry-record.ts';
import type { LabRepository } from '../../lab/database/lab-repository.ts';
import { openPayloadMappings, type PayloadMappings } from '../../lab/database/payload-mapping-table.ts';
import { openLabRepository } from '../../lab/database/sqlite-lab-repository.ts';
import type { Person } from '../../lab/person.ts';
import type { EpochMillis } from '../../wax/units.ts';
import type { CreateLab } from './create-lab.ts';
import { openFolderDatabase } from './open-database.ts';
import type { ProcessSettings } from '../settings/settings.ts';

export interface LabData {
  readonly database: LabDatabase;
  readonly repository: LabRepository;
  /** As they were before a lab file was taken. */
  readonly peopleBefore: readonly Person[];
  readonly archive: AlarmArchive;
  readonly quarantine: QuarantineTable;
  readonly mappings: PayloadMappings;
  readonly groupLink: GroupLinkTable;
  readonly groupOffers: GroupOfferTable;
  readonly connections: ConnectionSettings;
  readonly entryRecord: EntryRecord;
  readonly store: Store;
  readonly journalFolder: string;
  readonly reader: TailReader;
  readonly close: () => Promise<void>;
}

/** `createLab` runs before anything reads the lab. */
export function openLabData(
  settings: Pick<ProcessSettings, 'data' | 'store'>,
  createLab: CreateLab,
  now: () => EpochMillis,
): LabData {
  const unlock = lockFolder(settings.data);
  closeToOthers(settings.data);
  const database = openFolderDatabase(settings.data);
  const repository = openLabRepository(database, now, ruleFigures);
  const peopleBefore = repository.lab().people;
  createLab(database, repository);
  const journalFolder = join(settings.data, 'journal');
  const reader = tailReader(journalFolder);
  const store = openStore(settings.store, { database, site: repository.lab().site.id });
  return {
    database,
    repository,
    peopleBefore,
    archive: openAlarmArchive(database),
    quarantine: openQuarantineTable(database),
    mappings: openPayloadMappings(database),
    groupLink: openGroupLinkTable(database),
    groupOffers: openGroupOfferTable(database),
    connections: openConnectionSettings(database),
    entryRecord: openEntryRecord(database),
    store,
    journalFolder,
    reader,
    close: async () => {
      await store.close();
      reader.close();
      database.close();
      unlock();
    },
  };
}
