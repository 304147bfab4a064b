// What a folder of a newer version looks like to this one, and that none of this version's own looks so.

import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { openDatabase } from '../../lab/database/database.ts';
import { TABLE_OWNERS } from '../../lab/database/table-owners.ts';
import { openFolderDatabase } from './open-database.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

it('a folder in which a newer version made tables of an owner of its own is refused by name', () => {
  const newer = openDatabase(join(folder, 'waxwarden.db'));
  newer.migrate('lab', ['CREATE TABLE site (id TEXT)']);
  newer.migrate('lab/of-tomorrow', ['CREATE TABLE tomorrow (id TEXT)']);
  newer.close();
  expect(() => openFolderDatabase(folder)).toThrow(
    expect.objectContaining({
      code: 'database-newer',
      problem: expect.objectContaining({ values: expect.objectContaining({ owner: 'lab/of-tomorrow' }) }),
    }),
  );
});

it('every owner of tables in this version is listed, so that a later version of it opens its folders', () => {
  const sources = ['alerts', 'cli', 'collector', 'dashboard', 'lab', 'pipeline'].flatMap((top) =>
    readdirSync(top, { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts') && !name.endsWith('.test.ts'))
      .map((name) => readFileSync(join(top, name), 'utf8')),
  );
  const owners = sources.flatMap((text) =>
    [...text.matchAll(/\.migrate\(\s*'([^']+)'/g)].map(([, name]) => name),
  );
  expect(owners.length).toBeGreaterThan(20);
  expect(owners.filter((name) => !TABLE_OWNERS.includes(String(name)))).toEqual([]);
});
