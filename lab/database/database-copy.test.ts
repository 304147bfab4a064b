import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openDatabase } from './database.ts';
import { copyDatabase, restoreDatabase } from './database-copy.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

const names = (file: string): unknown => {
  const database = openDatabase(file);
  const all = database.writer.prepare('SELECT name FROM thing').pluck().all();
  database.close();
  return all;
};
const filled = (file: string) => {
  const database = openDatabase(file);
  database.migrate('thing', ['CREATE TABLE thing (name TEXT)']);
  database.writer.exec("INSERT INTO thing VALUES ('kept')");
  return database;
};

describe('a copy of the database', () => {
  it('holds what is committed and not what is being written, and leaves the writer at work', () => {
    const database = filled(join(folder, 'lab.db'));
    const target = join(folder, 'copies', 'monday.db');
    database.transaction(() => {
      database.writer.exec("INSERT INTO thing VALUES ('during')");
      copyDatabase(database.file, target);
    });
    database.close();
    expect(names(target)).toEqual(['kept']);
    expect(names(join(folder, 'lab.db'))).toEqual(['kept', 'during']);
  });

  it('brings the database and the files that rode in it back', () => {
    filled(join(folder, 'lab.db')).close();
    const carried = [{ name: 'https/authority.json', bytes: Buffer.from('{"key":1}') }];
    copyDatabase(join(folder, 'lab.db'), join(folder, 'copy.db'), carried);
    const target = join(folder, 'new', 'lab.db');
    restoreDatabase(join(folder, 'copy.db'), target, (files) => {
      expect(files).toEqual(carried);
      expect(existsSync(target)).toBe(false);
    });
    expect(names(join(folder, 'new', 'lab.db'))).toEqual(['kept']);
  });

  it('is never restored over a database', () => {
    filled(join(folder, 'lab.db')).close();
    copyDatabase(join(folder, 'lab.db'), join(folder, 'copy.db'));
    const before = readFileSync(join(folder, 'lab.db'));
    expect(() => restoreDatabase(join(folder, 'copy.db'), join(folder, 'lab.db'), () => {})).toThrow(
      expect.objectContaining({ code: 'database-in-place' }),
    );
    expect(readFileSync(join(folder, 'lab.db'))).toEqual(before);
  });

  it('is never restored beside the log of another database, which would be read into it', () => {
    filled(join(folder, 'lab.db')).close();
    copyDatabase(join(folder, 'lab.db'), join(folder, 'copy.db'));
    writeFileSync(join(folder, 'new.db-wal'), 'of another one');
    expect(() => restoreDatabase(join(folder, 'copy.db'), join(folder, 'new.db'), () => {})).toThrow(
      expect.objectContaining({ code: 'database-in-place' }),
    );
    expect(existsSync(join(folder, 'new.db'))).toBe(false);
  });

  it('is refused when it is damaged, and nothing is left in its place', () => {
    writeFileSync(join(folder, 'copy.db'), 'a letter, not a database'.repeat(100));
    expect(() => restoreDatabase(join(folder, 'copy.db'), join(folder, 'lab.db'), () => {})).toThrow(
      expect.objectContaining({ code: 'database-corrupt' }),
    );
    expect(() => readFileSync(join(folder, 'lab.db'))).toThrow('ENOENT');
  });
});
