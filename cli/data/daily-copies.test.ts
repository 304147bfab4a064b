import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { until } from '../../tests/integration/until.ts';
import { type CopyRecord, openCopyRecord } from '../../lab/database/copy-record.ts';
import { type LabDatabase, openDatabase } from '../../lab/database/database.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR } from '../../wax/units.ts';
import { isCopyDue, startDailyCopies } from './daily-copies.ts';

const NOW = epochMillis(Date.UTC(2031, 4, 4, 3));
let folder: string;
let database: LabDatabase;
let record: CopyRecord;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-'));
  database = openDatabase(join(folder, 'waxwarden.db'));
  record = openCopyRecord(database);
});
afterEach(() => {
  database.close();
  rmSync(folder, { recursive: true });
});
const made = async (copies: string): Promise<void> => {
  const end = startDailyCopies({ data: folder, copies, database, now: () => NOW });
  await until(() => record.newest(1)[0]);
  await end();
};

it('the first look makes a copy that the lab lists, and keeps the newest seven', async () => {
  const copies = join(folder, 'copies');
  await made(copies);
  expect(record.lastGood()).toMatchObject({ at: NOW, file: join(copies, 'waxwarden-2031-05-04.db') });
  for (let day = 10; day < 20; day += 1) writeFileSync(join(copies, `waxwarden-2031-04-${day}.db`), 'old');
  writeFileSync(join(copies, 'mine.db'), 'not ours');
  database.writer.exec('DELETE FROM data_copy');
  await made(copies);
  const names = readdirSync(copies).sort();
  expect([names.length, names[0], names.at(-2), names.at(-1)]).toEqual([
    8,
    'mine.db',
    'waxwarden-2031-04-19.db',
    'waxwarden-2031-05-04.db',
  ]);
});

it('what a killed program left of the copy of another day makes room before the next one', async () => {
  const copies = join(folder, 'copies');
  mkdirSync(copies);
  for (const name of [
    'waxwarden-2031-05-01.db.partial',
    'waxwarden-2031-05-01.db.partial-journal',
    'my.partial',
  ])
    writeFileSync(join(copies, name), 'half');
  await made(copies);
  expect(readdirSync(copies).sort()).toEqual(['my.partial', 'waxwarden-2031-05-04.db']);
});

it('copies of a clock that ran ahead for years keep no later one from being made, kept and listed', async () => {
  const copies = join(folder, 'copies');
  record.add({ at: epochMillis(NOW + 900 * MILLIS_PER_DAY), file: 'ahead', bytes: 1, fault: null });
  mkdirSync(copies);
  for (let day = 10; day < 20; day += 1) writeFileSync(join(copies, `waxwarden-2033-04-${day}.db`), 'ahead');
  writeFileSync(join(copies, 'waxwarden-2031-05-03.db'), 'yesterday');
  const end = startDailyCopies({ data: folder, copies, database, now: () => NOW });
  await until(() => record.lastGood()?.at === NOW);
  await end();
  const names = readdirSync(copies);
  expect(names).toHaveLength(7);
  expect(names).toEqual(expect.arrayContaining(['waxwarden-2031-05-03.db', 'waxwarden-2031-05-04.db']));
  expect(record.newest(10)).toMatchObject([{ at: NOW }]);
});

it('a copy that the end of the program cuts short is no failure', async () => {
  await startDailyCopies({ data: folder, copies: join(folder, 'copies'), database, now: () => NOW })();
  expect(record.newest(10).filter(({ fault }) => fault !== null)).toEqual([]);
});

it('a copy that cannot be written is recorded with its reason', async () => {
  writeFileSync(join(folder, 'file'), '');
  await made(join(folder, 'file', 'copies'));
  expect(record.lastGood()).toBeNull();
  expect(record.newest(1)).toMatchObject([
    { at: NOW, bytes: null, fault: expect.stringContaining('ENOTDIR') },
  ]);
});

it.each([
  ['none was ever made', [], true],
  ['the last one is 23 hours old', [[23, null]], false],
  ['the last one is a day old', [[24, null]], true],
  ['one failed half an hour ago', [[0.5, 'full']], false],
  ['one failed an hour ago', [[1, 'full']], true],
  [
    'the last good one is a day old and one failed just now',
    [
      [24, null],
      [0.1, 'full'],
    ],
    false,
  ],
  ['the last one is of tomorrow, by a clock that ran ahead', [[-24, null]], true],
  ['one failed tomorrow, by a clock that ran ahead', [[-24, 'full']], true],
] as const)('a copy is due, or not yet, when %s', (_, copies, isDue) => {
  for (const [hoursAgo, fault] of copies) {
    const at = (NOW - hoursAgo * MILLIS_PER_HOUR) as EpochMillis;
    record.add({ at, file: 'x', bytes: fault === null ? 1 : null, fault });
  }
  expect(isCopyDue(record, NOW)).toBe(isDue);
});

it('records of copies are forgotten after more than a year', () => {
  record.add({ at: NOW, file: 'old', bytes: 1, fault: null });
  record.add({ at: epochMillis(NOW + 500 * MILLIS_PER_DAY), file: 'new', bytes: 1, fault: null });
  expect(record.newest(10).map(({ file }) => file)).toEqual(['new']);
});
