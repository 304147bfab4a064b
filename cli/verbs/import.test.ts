import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { runVerb } from '../command-line/run-verb.ts';

let folder: string;
let printed: string[];
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-'));
  printed = [];
  const keep = (text: unknown): boolean => printed.push(String(text)) > 0;
  vi.spyOn(console, 'log').mockImplementation(keep);
  vi.spyOn(console, 'error').mockImplementation(keep);
  vi.spyOn(process.stdout, 'write').mockImplementation(keep);
});
afterEach(() => {
  vi.restoreAllMocks();
  rmSync(folder, { recursive: true });
});

/** Imports rows of one probe by the clocks of Berlin, and returns what it printed. */
async function importRows(rows: readonly string[]): Promise<readonly string[]> {
  const file = join(folder, 'logger.csv');
  writeFileSync(file, `When,Temp\n${rows.join('\n')}\n`);
  printed = [];
  const mapping = ['--time', 'When', '--value', 'Temp', '--probe', 'pot', '--zone', 'Europe/Berlin'];
  await runVerb('import', [file, ...mapping, '--data', join(folder, 'data')]);
  return printed.map((line) => line.replace(file, 'logger.csv'));
}

/** Hour and minute of UTC with the value, of all that is stored. */
async function stored(): Promise<readonly string[]> {
  printed = [];
  await runVerb('export', ['--data', join(folder, 'data'), '--to', '2099-01-01T00:00:00Z']);
  return printed
    .join('')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.replace(/^.*T(\d\d:\d\d).*,pot,(.*),good$/, '$1 $2'));
}

const AUTUMN = [
  '2031-10-26 01:40:00,20',
  '2031-10-26 02:10:00,21',
  '2031-10-26 02:40:00,22',
  '2031-10-26 02:10:00,23',
  '2031-10-26 02:40:00,24',
  '2031-10-26 03:10:00,25',
];
const AUTUMN_STORED = ['23:40 20', '00:10 21', '00:40 22', '01:10 23', '01:40 24', '02:10 25'];

describe('the import of a file by the clocks of a zone', () => {
  it('keeps both passes of the hour that a clock change repeats, and changes nothing the second time', async () => {
    expect(await importRows(AUTUMN)).toEqual(['6 rows: 6 new, 0 there already, 0 refused']);
    expect(await stored()).toEqual(AUTUMN_STORED);
    expect(await importRows(AUTUMN)).toEqual(['6 rows: 0 new, 6 there already, 0 refused']);
    expect(await stored()).toEqual(AUTUMN_STORED);
  });

  it('does so too where the newest row is first', async () => {
    await importRows(AUTUMN.toReversed());
    expect(await stored()).toEqual(AUTUMN_STORED);
  });

  it('does so too where there is one row an hour', async () => {
    await importRows([
      '2031-10-26 01:00:00,20',
      '2031-10-26 02:00:00,21',
      '2031-10-26 02:00:00,22',
      '2031-10-26 03:00:00,23',
    ]);
    expect(await stored()).toEqual(['23:00 20', '00:00 21', '01:00 22', '02:00 23']);
  });

  it('refuses a time that a clock change leaves out', async () => {
    const lines = await importRows([
      '2031-03-30 01:59:00,20',
      '2031-03-30 02:30:00,21',
      '2031-03-30 03:00:00,22',
    ]);
    expect(lines).toEqual([
      'logger.csv:3: 2031-03-30 02:30:00 does not exist in Europe/Berlin: clocks are set forward past it',
      '3 rows: 2 new, 0 there already, 1 refused',
    ]);
  });
});

describe('the import of a file that disagrees', () => {
  it('with what is stored keeps that, and counts what has another value', async () => {
    await importRows(['2031-05-01 08:00:00,20', '2031-05-01 08:01:00,21']);
    expect(await importRows(['2031-05-01 08:00:00,20', '2031-05-01 08:01:00,99'])).toEqual([
      '2 rows: 0 new, 2 there already, 0 refused',
      '1 of those there already have another value in the file; what was there stays',
    ]);
    expect(await stored()).toEqual(['06:00 20', '06:01 21']);
  });

  it('with itself takes the first of two values of one instant, and counts the other', async () => {
    expect(await importRows(['2031-05-01 08:00:00,20', '2031-05-01 08:00:00,21'])).toEqual([
      '2 rows: 1 new, 1 there already, 0 refused',
      '1 of those there already have another value in the file; what was there stays',
    ]);
  });

  it('with the form of CSV is refused in one line', async () => {
    const [line = ''] = await importRows(['2031-05-01 08:00:00,20', '"2031-05-01 08:01:00,21']);
    expect(line).toMatch(/^waxwarden: logger.csv is no CSV: Quote Not Closed/);
  });
});

describe('the import of a file that is not what it should be', () => {
  it.each(['0x10', '0b11', '1e999', 'NaN', '--5', '5 °C'])('takes %s for no temperature', async (value) => {
    expect(await importRows([`2031-03-03 08:00:00,${value}`])).toEqual([
      `logger.csv:2: "${value}" is no number`,
      '1 rows: 0 new, 0 there already, 1 refused',
    ]);
  });

  it.each(['2031-02-30 08:00:00', '2031-02-30T08:00:00Z', 'Feb 3 2031 08:00 +0100'])(
    'takes %s for no instant',
    async (time) => {
      const [line = ''] = await importRows([`${time},21`]);
      expect(line).toContain(`"${time}" is no instant in the form iso`);
    },
  );

  it.each([
    ['12:05 AM', '23:05'],
    ['8:05:00 a.m.', '07:05'],
    ['12:05 PM', '11:05'],
    ['11:05:59 pm', '22:05'],
    ['0:05 PM', null],
    ['13:05 PM', null],
  ])('takes a clock of twelve hours: %s for %s of UTC', async (clock, utc) => {
    await importRows([`2031-03-03 ${clock},21`]);
    expect(await stored()).toEqual(utc === null ? [] : [`${utc} 21`]);
  });

  it.each([
    ['2031-03-03T08:00:00+01:00', '07:00'],
    ['2031-03-03 08:00 +0100', '07:00'],
    ['2031-03-03T08:00:00.250Z', '08:00'],
  ])('takes %s for %s of UTC', async (time, clock) => {
    await importRows([`${time},21`]);
    expect(await stored()).toEqual([`${clock} 21`]);
  });

  it.each([
    ['21,5', '21.5'],
    ['+21.', '21'],
    ['2.15e1', '21.5'],
  ])('takes %s for %s', async (value, read) => {
    await importRows([`2031-03-03 08:00:00,"${value}"`]);
    expect(await stored()).toEqual([`07:00 ${read}`]);
  });

  it('refuses a column that is there twice instead of taking the last', async () => {
    const file = join(folder, 'twice.csv');
    writeFileSync(file, 'When,Temp,Temp\n2031-03-03 08:00:00,21,99\n');
    printed = [];
    await runVerb('import', [
      ...[file, '--time', 'When', '--value', 'Temp', '--probe', 'pot'],
      ...['--data', join(folder, 'data')],
    ]);
    expect(printed.join('')).toContain('twice.csv has several columns Temp');
  });

  it('prints nothing of it that would steer a terminal, and nothing endless', async () => {
    const [line = ''] = await importRows([`2031-03-03 08:00:00,\u001b]0;title\u0007${'x'.repeat(5000)}`]);
    expect(line).toContain('logger.csv:2: " ]0;title xxx');
    expect(line.length).toBeLessThan(600);
  });
});
