// How far the journal has been applied, and the rule state at that point: the part of the store that always lies
// in SQLite, whichever engine keeps the readings.

import type { LabDatabase } from '../../lab/database/database.ts';

const STEPS = [
  `CREATE TABLE progress (consumer TEXT PRIMARY KEY, journal_offset INTEGER NOT NULL) WITHOUT ROWID;
   CREATE TABLE rule_state (part TEXT PRIMARY KEY, value TEXT NOT NULL);`,
];

export interface Progress {
  /** Journal offset up to which the consumer has everything; 0 when it never had anything. */
  readonly offset: (consumer: string) => number;
  readonly setOffset: (consumer: string, offset: number) => void;
  readonly ruleState: () => Readonly<Record<string, unknown>>;
  /** Writes the parts; one whose value is `undefined` is forgotten. Runs inside the caller's transaction. */
  readonly saveRuleState: (parts: Readonly<Record<string, unknown>>) => void;
}

export function openProgress(database: LabDatabase): Progress {
  database.migrate('collector/progress', STEPS);
  const { writer } = database;
  const readOffset = writer
    .prepare<[string], number>('SELECT journal_offset FROM progress WHERE consumer = ?')
    .pluck();
  const writeOffset = writer.prepare<[string, number]>('INSERT OR REPLACE INTO progress VALUES (?, ?)');
  const readParts = writer.prepare<[], [string, string]>('SELECT part, value FROM rule_state').raw();
  // In place: a row that is replaced moves, and takes twice as many pages along.
  const writePart = writer.prepare<[string, string]>(
    'INSERT INTO rule_state VALUES (?, ?) ON CONFLICT (part) DO UPDATE SET value = excluded.value',
  );
  const forgetPart = writer.prepare<[string]>('DELETE FROM rule_state WHERE part = ?');
  return {
    offset: (consumer) => readOffset.get(consumer) ?? 0,
    setOffset: (consumer, offset) => {
      writeOffset.run(consumer, offset);
    },
    ruleState: () => Object.fromEntries(readParts.all().map(([part, value]) => [part, JSON.parse(value)])),
    saveRuleState: (parts) => {
      for (const [part, value] of Object.entries(parts)) {
        if (value === undefined) forgetPart.run(part);
        else writePart.run(part, JSON.stringify(value));
      }
    },
  };
}
