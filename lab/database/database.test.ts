import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { DatabaseRefusal, type LabDatabase, openDatabase } from './database.ts';

let folder = '';
let open: LabDatabase[] = [];
const opened = (file = join(folder, 'lab.db')): LabDatabase => {
  const database = openDatabase(file);
  open.push(database);
  return database;
};
const refusal = (work: () => unknown): DatabaseRefusal => {
  try {
    work();
  } catch (error) {
    if (error instanceof DatabaseRefusal) return error;
    throw error;
  }
  throw new Error('it was not refused');
};

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-'));
});
afterEach(() => {
  for (const database of open) database.close();
  open = [];
  rmSync(folder, { recursive: true });
});

const TABLE = 'CREATE TABLE thing (name TEXT PRIMARY KEY) WITHOUT ROWID';

describe('the database', () => {
  it('commits so that a power cut loses nothing: a log with a forced write at every commit', () => {
    const { writer } = opened();
    expect(writer.pragma('journal_mode', { simple: true })).toBe('wal');
    expect(writer.pragma('synchronous', { simple: true })).toBe(2);
    expect(writer.pragma('foreign_keys', { simple: true })).toBe(1);
  });

  it('can be read by its owner alone', () => {
    const { file } = opened();
    expect(statSync(file).mode & 0o777).toBe(0o600);
  });

  it('runs each step of an owner once, also when it is opened again', () => {
    const first = opened();
    first.migrate('thing', [TABLE]);
    first.writer.exec("INSERT INTO thing VALUES ('kept')");
    first.migrate('thing', [TABLE, 'ALTER TABLE thing ADD COLUMN colour TEXT']);
    first.close();
    open = [];
    const again = opened();
    again.migrate('thing', [TABLE, 'ALTER TABLE thing ADD COLUMN colour TEXT']);
    expect(again.writer.prepare('SELECT * FROM thing').all()).toEqual([{ name: 'kept', colour: null }]);
  });

  it('undoes all steps when one of them fails', () => {
    const database = opened();
    expect(() => database.migrate('thing', [TABLE, 'nonsense'])).toThrow('nonsense');
    database.migrate('thing', [TABLE]);
    expect(database.writer.prepare('SELECT count(*) AS n FROM thing').get()).toEqual({ n: 0 });
  });

  it('refuses a file that a newer version wrote', () => {
    const database = opened();
    database.migrate('thing', [TABLE, 'ALTER TABLE thing ADD COLUMN colour TEXT']);
    expect(refusal(() => database.migrate('thing', [TABLE])).code).toBe('database-newer');
  });

  it('undoes a transaction whose work throws, and only the inner one when it is caught', () => {
    const database = opened();
    database.migrate('thing', [TABLE]);
    const add = database.writer.prepare('INSERT INTO thing VALUES (?)');
    expect(() =>
      database.transaction(() => {
        add.run('lost');
        throw new Error('no');
      }),
    ).toThrow('no');
    database.transaction(() => {
      add.run('outer');
      try {
        database.transaction(() => {
          add.run('inner');
          throw new Error('no');
        });
      } catch {}
    });
    expect(database.writer.prepare('SELECT name FROM thing').pluck().all()).toEqual(['outer']);
  });

  it('lets a reader see what is committed while a transaction is open, and never write', () => {
    const database = opened();
    database.migrate('thing', [TABLE]);
    const reader = database.reader();
    const count = reader.prepare('SELECT count(*) FROM thing').pluck();
    database.transaction(() => {
      database.writer.exec("INSERT INTO thing VALUES ('new')");
      expect(count.get()).toBe(0);
    });
    expect(count.get()).toBe(1);
    expect(() => reader.exec('DELETE FROM thing')).toThrow('readonly');
  });

  it('refuses a file that is no database and leaves it as it was', () => {
    const file = join(folder, 'lab.db');
    writeFileSync(file, 'a letter, not a database'.repeat(100));
    const before = readFileSync(file, 'utf8');
    const { code, message } = refusal(() => openDatabase(file));
    expect([code, message.includes(file)]).toEqual(['database-corrupt', true]);
    expect(readFileSync(file, 'utf8')).toBe(before);
  });

  it('finds damage inside the file on request', () => {
    const database = opened();
    database.migrate('thing', [TABLE]);
    const add = database.writer.prepare('INSERT INTO thing VALUES (?)');
    database.transaction(() => {
      for (let index = 0; index < 5000; index += 1) add.run(`thing ${index}`);
    });
    database.close();
    open = [];
    const file = join(folder, 'lab.db');
    const bytes = readFileSync(file);
    bytes.fill(0x5a, bytes.length - 8192, bytes.length - 4096);
    writeFileSync(file, bytes);
    expect(opened().faults().length).toBeGreaterThan(0);
  });

  it('refuses a folder that is a file', () => {
    writeFileSync(join(folder, 'data'), '');
    expect(refusal(() => openDatabase(join(folder, 'data', 'lab.db'))).code).toBe('database-not-writable');
  });
});
