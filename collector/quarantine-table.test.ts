import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { type LabDatabase, openDatabase } from '../lab/database/database.ts';
import { epochMillis } from '../wax/units.ts';
import type { Rejection } from './decode/rejection.ts';
import { openQuarantineTable } from './quarantine-table.ts';

let folder: string;
let database: LabDatabase;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-quarantine-'));
  database = openDatabase(join(folder, 'lab.db'));
});
afterEach(() => {
  database.close();
  rmSync(folder, { recursive: true });
});

const rejection = (code: string, at: number): Rejection => ({
  topic: 'wax/lab/gw/pot/celsius',
  code,
  reason: 'Not a number.',
  at: epochMillis(at),
  sample: new TextEncoder().encode(`sample ${at}`),
  bytes: 8,
});

it('the table of quarantine keeps counts, first, last and the newest sample over a restart', () => {
  const write = (rejections: readonly Rejection[]) =>
    database.transaction(() => table.write(rejections)(database.writer));
  const table = openQuarantineTable(database);
  write([rejection('not-a-number', 1), rejection('not-a-number', 2)]);
  write([rejection('too-long', 3)]);
  database.close();
  database = openDatabase(join(folder, 'lab.db'));
  const rows = openQuarantineTable(database).rows(10);
  expect(rows.map(({ code, count, firstAt, lastAt }) => [code, count, firstAt, lastAt])).toEqual([
    ['too-long', 1, 3, 3],
    ['not-a-number', 2, 1, 2],
  ]);
  expect(new TextDecoder().decode(rows[1]?.sample)).toBe('sample 2');
});

it('the table of quarantine keeps the values and the offending text of a reason over a restart, and the sentence of an older one', () => {
  const { reason: _, ...coded } = rejection('out-of-range', 2);
  const rejections = [
    rejection('not-a-number', 1),
    { ...coded, values: { least_celsius: -100 }, offending: '-300' },
  ];
  const table = openQuarantineTable(database);
  database.transaction(() => table.write(rejections)(database.writer));
  database.close();
  database = openDatabase(join(folder, 'lab.db'));
  const [newest, oldest] = openQuarantineTable(database).rows(10);
  expect(newest).toMatchObject({ values: { least_celsius: -100 }, offending: '-300' });
  expect(newest).not.toHaveProperty('reason');
  expect(oldest).toMatchObject({ reason: 'Not a number.' });
  expect(oldest).not.toHaveProperty('values');
});

it('the table of quarantine counts a rejection once although its transaction was undone and tried again', () => {
  const table = openQuarantineTable(database);
  const rejections = [rejection('not-a-number', 1)];
  expect(() =>
    database.transaction(() => {
      table.write(rejections)(database.writer);
      throw new Error('no room');
    }),
  ).toThrow();
  expect(table.rows(10)).toEqual([]);
  database.transaction(() => table.write(rejections)(database.writer));
  expect(table.rows(10).map(({ count }) => count)).toEqual([1]);
});

it('the table of quarantine shows the rows of an earlier database with their sentence, and counts on in them', () => {
  database.writer.exec(`
    CREATE TABLE quarantine (
      topic TEXT NOT NULL, code TEXT NOT NULL, reason TEXT NOT NULL, count INTEGER NOT NULL,
      first_at INTEGER NOT NULL, last_at INTEGER NOT NULL, sample BLOB NOT NULL, bytes INTEGER NOT NULL,
      PRIMARY KEY (topic, code)
    ) WITHOUT ROWID;
    INSERT INTO quarantine VALUES ('wax/lab/gw/pot/celsius', 'not-a-number', 'Not a number.', 7, 1, 5, x'6f6c64', 3);
    INSERT INTO migration VALUES ('quarantine', 1, '2026-01-05T08:00:00.000Z');`);
  const table = openQuarantineTable(database);
  const [before] = table.rows(10);
  expect(before).toMatchObject({
    code: 'not-a-number',
    reason: 'Not a number.',
    count: 7,
    firstAt: 1,
    lastAt: 5,
  });
  expect(new TextDecoder().decode(before?.sample)).toBe('old');
  expect(before).not.toHaveProperty('values');

  const { reason: _, ...coded } = rejection('not-a-number', 9);
  database.transaction(() => table.write([{ ...coded, offending: 'warm' }])(database.writer));
  database.close();
  database = openDatabase(join(folder, 'lab.db'));
  const [after] = openQuarantineTable(database).rows(10);
  expect(after).toMatchObject({ count: 8, firstAt: 1, lastAt: 9, offending: 'warm' });
  expect(after).not.toHaveProperty('reason');
});
