import { mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY } from '../wax/units.ts';
import {
  checkCopy,
  checkDisk,
  findChangedResults,
  inodeOf,
  type SelfCheckResult,
  setAsideProblems,
} from './self-check.ts';

const result = (ok: boolean): SelfCheckResult => ({ part: 'store', name: '', ok, detail: '' });

describe('the watcher of the watcher', () => {
  it('reports nothing while all is well, and nothing twice', () => {
    expect(findChangedResults(new Map(), [result(true)])).toEqual([]);
    expect(findChangedResults(new Map([['store/', false]]), [result(false)])).toEqual([]);
  });
  it('reports when something breaks and when it is well again', () => {
    expect(findChangedResults(new Map(), [result(false)])).toHaveLength(1);
    expect(findChangedResults(new Map([['store/', false]]), [result(true)])).toHaveLength(1);
  });
  it('reports an entry that was set aside for an hour', () => {
    const setAside = { at: epochMillis(1_000_000), kind: 'tick', reason: 'a mistake' } as const;
    const problemsAt = (millis: number) =>
      setAsideProblems(setAside, epochMillis(millis)).map(({ code }) => code);
    expect(problemsAt(1_000_001)).toEqual(['entry-set-aside']);
    expect(problemsAt(4_599_999)).toEqual(['entry-set-aside']);
    expect(problemsAt(4_600_000)).toEqual([]);
    expect(setAsideProblems(null, epochMillis(0))).toEqual([]);
  });
});

it('a database that is taken away, or replaced, while the program runs is reported', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-'));
  const file = join(folder, 'waxwarden.db');
  writeFileSync(file, '');
  const database = { file, inode: await inodeOf(file) };
  expect((await checkDisk(folder, database)).detail).not.toContain('data-folder-gone');
  const gone = { part: 'disk', ok: false, detail: expect.stringContaining('data-folder-gone') };
  renameSync(file, `${file}.aside`);
  expect(await checkDisk(folder, database)).toMatchObject(gone);
  writeFileSync(file, '');
  expect(await checkDisk(folder, database)).toMatchObject(gone);
  rmSync(folder, { recursive: true });
  expect(await checkDisk(folder, database)).toMatchObject(gone);
});

describe('the last copy of the data', () => {
  const NOW = epochMillis(Date.UTC(2031, 4, 20));
  const days = (count: number): EpochMillis => epochMillis(NOW - count * MILLIS_PER_DAY);
  it.each([
    ['nobody wants copies', null, true],
    ['the daily one is two days old', { at: days(2), fault: null, isDaily: true }, true],
    ['the daily one is four days old', { at: days(4), fault: null, isDaily: true }, false],
    ['one by hand is four days old', { at: days(4), fault: null, isDaily: false }, true],
    ['one by hand is nine days old', { at: days(9), fault: null, isDaily: false }, false],
    ['the first one failed', { at: null, fault: 'no room', isDaily: true }, false],
    ['one failed and the last good one is a day old', { at: days(1), fault: 'x', isDaily: true }, true],
  ] as const)('is well or not when %s', (_, copy, ok) => {
    expect(checkCopy(copy, NOW)).toMatchObject({ part: 'disk', name: 'copy', ok });
  });
});
