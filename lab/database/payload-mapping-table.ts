// The mappings of the lab in its database.

import type { LabDatabase } from './database.ts';
import type { PayloadMapping } from './payload-mapping.ts';
import { openRecords } from './record-tables.ts';

const STEPS = [
  'CREATE TABLE payload_mapping (id TEXT PRIMARY KEY, position INTEGER NOT NULL, body TEXT NOT NULL) WITHOUT ROWID;',
];

export interface PayloadMappings {
  readonly all: () => readonly PayloadMapping[];
  readonly save: (mapping: PayloadMapping) => void;
  readonly remove: (id: string) => void;
  readonly onChange: (listener: (mappings: readonly PayloadMapping[]) => void) => void;
}

export function openPayloadMappings(database: LabDatabase): PayloadMappings {
  database.migrate('lab/payload-mapping', STEPS);
  const records = openRecords<PayloadMapping>(database, 'payload_mapping');
  const listeners: ((mappings: readonly PayloadMapping[]) => void)[] = [];
  const callListeners = (): void =>
    database.afterTransaction(() => {
      for (const listener of listeners) listener(records.all());
    });
  return {
    all: records.all,
    save: (mapping) => {
      records.save(mapping.id, mapping);
      callListeners();
    },
    remove: (id) => {
      records.remove(id);
      callListeners();
    },
    onChange: (listener) => {
      listeners.push(listener);
    },
  };
}
