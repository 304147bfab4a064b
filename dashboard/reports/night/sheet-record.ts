// What people wrote on a night's sheet: notes and signatures, kept for ever. A signature names the digest of the
// figures that were signed, so that a change by late readings shows.

import { createHash } from 'node:crypto';
import type { LabDatabase } from '../../../lab/database/database.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { Note, Signature } from '../../api/night.ts';

const STEPS = [
  `CREATE TABLE night_note (number INTEGER PRIMARY KEY, date TEXT NOT NULL, at INTEGER NOT NULL, by TEXT NOT NULL,
     text TEXT NOT NULL);
   CREATE INDEX night_note_date ON night_note (date);
   CREATE TABLE night_signature (number INTEGER PRIMARY KEY, date TEXT NOT NULL, at INTEGER NOT NULL, by TEXT NOT NULL,
     figures TEXT NOT NULL);
   CREATE INDEX night_signature_date ON night_signature (date);
   CREATE TRIGGER night_signature_stays BEFORE UPDATE ON night_signature
     BEGIN SELECT raise(ABORT, 'a signature is never changed'); END;
   CREATE TRIGGER night_signature_is_kept BEFORE DELETE ON night_signature
     BEGIN SELECT raise(ABORT, 'a signature is never deleted'); END;`,
];

export interface SheetRecord {
  /** Oldest first. */
  readonly of: (date: string) => {
    readonly notes: readonly Note[];
    readonly signatures: readonly Omit<Signature, 'holds'>[];
  };
  readonly note: (date: string, at: EpochMillis, by: string, text: string) => void;
  readonly sign: (date: string, at: EpochMillis, by: string, figures: string) => void;
}

export const openSheetRecord = (database: LabDatabase): SheetRecord => {
  database.migrate('night sheet', STEPS);
  const { writer } = database;
  const notes = writer.prepare<[string], { at: number; by: string; text: string }>(
    'SELECT at, by, text FROM night_note WHERE date = ? ORDER BY number',
  );
  const signatures = writer.prepare<[string], { at: number; by: string; figures: string }>(
    'SELECT at, by, figures FROM night_signature WHERE date = ? ORDER BY number',
  );
  const note = writer.prepare('INSERT INTO night_note (date, at, by, text) VALUES (?, ?, ?, ?)');
  const sign = writer.prepare('INSERT INTO night_signature (date, at, by, figures) VALUES (?, ?, ?, ?)');
  const withIsoTime = <Row extends { readonly at: number }>(row: Row) => ({
    ...row,
    at: new Date(row.at).toISOString(),
  });
  return {
    of: (date) => ({
      notes: notes.all(date).map(withIsoTime),
      signatures: signatures.all(date).map(withIsoTime),
    }),
    note: (date, at, by, text) => void note.run(date, at, by, text),
    sign: (date, at, by, figures) => void sign.run(date, at, by, figures),
  };
};

export const digestOf = (figures: unknown): string =>
  createHash('sha256').update(JSON.stringify(figures)).digest('hex');
