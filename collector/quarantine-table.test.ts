import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { type LabDatabase, openDatabase } from '../lab/database.ts';
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

it('keeps counts, first, last and the newest sample over a restart', () => {
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

it('keeps the values and the offending text of a reason over a restart, and the sentence of an older one', () => {
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

it('counts a rejection once although its transaction was undone and tried again', () => {
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
