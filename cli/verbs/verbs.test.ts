import { execFileSync } from 'node:child_process';
import {
  copyFileSync,
  existsSync,
  linkSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { openJournal } from '../../collector/journal/open-journal.ts';
import { openSqliteStore } from '../../collector/store/sqlite-store.ts';
import { openCopyRecord } from '../../lab/database/copy-record.ts';
import { openDatabase } from '../../lab/database/database.ts';
import { reading, START } from '../../tests/store-specification.ts';
import { epochMillis, MILLIS_PER_DAY } from '../../wax/units.ts';
import { runVerb } from '../command-line/run-verb.ts';

let folder: string;
let data: string;
let printed: string[];
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-'));
  data = join(folder, 'data');
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
const rows = Array.from({ length: 300 }, (_, index) =>
  reading('pot-wax', START + index * 60_000 + 7, 60 + (index % 40) / 16, index === 5 ? 'suspect' : 'good'),
);
const withStore = async <T>(
  work: (store: ReturnType<typeof openSqliteStore>, database: ReturnType<typeof openDatabase>) => Promise<T>,
): Promise<T> => {
  const database = openDatabase(join(data, 'waxwarden.db'));
  const store = openSqliteStore(database);
  try {
    return await work(store, database);
  } finally {
    await store.close();
    database.close();
  }
};
const fill = (): Promise<void> =>
  withStore(async (store) => {
    await store.apply({ readings: rows, ruleState: { site: 1 }, alongside: [], offset: 4711 });
    await store.tidy(epochMillis(START + 2 * MILLIS_PER_DAY), () => null);
    writeFileSync(join(data, 'notice-keys.json'), '{"key":1}');
  });
const everything = { probe: 'pot-wax', from: epochMillis(0), to: epochMillis(START * 2), limit: 1000 };

describe('backup and restore', () => {
  it('bring readings, rule state, offset and keys back, and the lab lists the copy', async () => {
    await fill();
    const copy = join(folder, 'copy.db');
    expect(await runVerb('backup', [copy, '--data', data])).toBe(0);
    await withStore(async (_, database) => {
      expect(openCopyRecord(database).lastGood()).toMatchObject({ file: copy, fault: null });
    });
    data = join(folder, 'new');
    expect(await runVerb('restore', [copy, '--data', data])).toBe(0);
    expect(readFileSync(join(data, 'notice-keys.json'), 'utf8')).toBe('{"key":1}');
    await withStore(async (store) => {
      expect(await store.raw(everything)).toEqual(rows);
      expect([store.offset(), store.ruleState()]).toEqual([4711, { site: 1 }]);
    });
    // A journal that begins anew goes on behind what the database has applied.
    const journal = await openJournal(join(data, 'journal'), { atLeast: 4711 });
    expect(await journal.append([{ kind: 'tick', receivedAt: epochMillis(1) }])).toBeGreaterThan(4711);
    await journal.close();
  });

  it('leave out sessions of the broker, and take up again what was killed once its keys were there', async () => {
    await fill();
    writeFileSync(join(data, 'sessions.db'), 'of the moment');
    const copy = join(folder, 'copy.db');
    expect(await runVerb('backup', [copy, '--data', data])).toBe(0);
    data = join(folder, 'new');
    mkdirSync(data);
    writeFileSync(join(data, 'notice-keys.json'), '{"key":2}');
    expect(await runVerb('restore', [copy, '--data', data])).toBe(1);
    expect(printed.at(-1)).toContain('notice-keys.json');
    expect(readdirSync(data).filter((name) => name.startsWith('waxwarden.db'))).toEqual([]);
    writeFileSync(join(data, 'notice-keys.json'), '{"key":1}');
    expect(await runVerb('restore', [copy, '--data', data])).toBe(0);
    expect(existsSync(join(data, 'sessions.db'))).toBe(false);
  });

  it('are refused where they would destroy something or have nothing to work on', async () => {
    await fill();
    expect(await runVerb('backup', ['--data', data])).toBe(2);
    expect(await runVerb('backup', [join(folder, 'copy.db'), '--data', data])).toBe(0);
    expect(await runVerb('restore', [join(folder, 'copy.db'), '--data', data])).toBe(1);
    expect(await runVerb('backup', [join(folder, 'x.db'), '--data', join(folder, 'none')])).toBe(1);
    expect(await runVerb('restore', [join(folder, 'none.db'), '--data', join(folder, 'new')])).toBe(1);
  });
});

describe('a backup', () => {
  it('replaces an earlier copy and no other file, least of all the database that it copies', async () => {
    await fill();
    const copy = join(folder, 'copy.db');
    const keys = join(data, 'notice-keys.json');
    const own = join(data, 'waxwarden.db');
    linkSync(own, join(folder, 'link.db'));
    for (const target of [own, join(folder, 'link.db'), keys]) {
      const before = readFileSync(target);
      expect(await runVerb('backup', [target, '--data', data])).toBe(2);
      expect(readFileSync(target).equals(before)).toBe(true);
    }
    for (let time = 1; time <= 2; time += 1) expect(await runVerb('backup', [copy, '--data', data])).toBe(0);
  });

  it('holds no other one, also where copies are made into the data folder itself', async () => {
    await fill();
    for (const name of ['copies/monday.db', 'copies/tuesday.db', 'wednesday.db'])
      expect(await runVerb('backup', [join(data, name), '--data', data])).toBe(0);
    const copy = openDatabase(join(data, 'wednesday.db'));
    expect(copy.writer.prepare('SELECT name FROM carried_file').pluck().all()).toEqual(['notice-keys.json']);
    copy.close();
  });

  it('is made of a folder in which somebody put a copy in place by hand', async () => {
    await fill();
    const copy = join(folder, 'copy.db');
    expect(await runVerb('backup', [copy, '--data', data])).toBe(0);
    const other = join(folder, 'other');
    mkdirSync(other);
    copyFileSync(copy, join(other, 'waxwarden.db'));
    expect(await runVerb('backup', [join(folder, 'second.db'), '--data', other])).toBe(0);
    expect(await runVerb('restore', [join(folder, 'second.db'), '--data', join(folder, 'new')])).toBe(0);
  });
});

describe('a database of which pages are damaged', () => {
  it('is found by verify and refused by every other verb in one line', async () => {
    await fill();
    const file = join(data, 'waxwarden.db');
    const bytes = readFileSync(file);
    writeFileSync(file, bytes.fill(255, 4096));
    expect(await runVerb('verify', ['--data', data])).toBe(1);
    expect(printed[0]).toContain('database: ');
    printed = [];
    for (const [verb, ...args] of [['export'], ['set-aside'], ['backup', join(folder, 'copy.db')]] as const)
      expect(await runVerb(verb, [...args, '--data', data])).toBe(1);
    const refusals = printed.filter((line) => line.startsWith('waxwarden: The file'));
    expect(refusals).toHaveLength(3);
  });
});

describe('a folder on which no program was started last', () => {
  it.each(['blank', 'of the first version'])('is refused in one line where it is %s', async (which) => {
    mkdirSync(data);
    if (which === 'blank') writeFileSync(join(data, 'waxwarden.db'), '');
    else execFileSync('tar', ['-xzf', 'tests/data/first-version-folder.tar.gz', '-C', data]);
    for (const verb of ['export', 'replay']) {
      printed = [];
      expect(await runVerb(verb as 'export', ['--data', data])).toBe(2);
      expect(printed).toHaveLength(1);
    }
    const status = which === 'blank' ? 1 : 0;
    expect(await runVerb('backup', [join(folder, 'copy.db'), '--data', data])).toBe(status);
    expect(existsSync(join(folder, 'copy.db'))).toBe(status === 0);
  });
});

describe('a file that is no copy', () => {
  it.each([
    ['an empty one', ''],
    ['a text', 'hello, this is no database at all'],
  ])('is refused by restore and found by verify: %s', async (_, text) => {
    const file = join(folder, 'none.db');
    writeFileSync(file, text);
    expect(await runVerb('verify', [file])).toBe(1);
    expect(await runVerb('restore', [file, '--data', join(folder, 'new')])).toBe(1);
    expect(existsSync(join(folder, 'new', 'waxwarden.db'))).toBe(false);
  });
});

describe('verify', () => {
  it('finds nothing in a sound folder', async () => {
    await fill();
    expect(await runVerb('verify', ['--data', data])).toBe(0);
    expect(printed.at(-1)).toContain('sound: 300 readings');
  });

  it('reports which probe and which span a damaged pack has, and a damaged copy is not restored', async () => {
    await fill();
    await withStore(async (_, database) => {
      const body = database.writer.prepare<[], Buffer>('SELECT body FROM reading_pack').pluck().get();
      if (body === undefined) throw new Error('nothing was sealed');
      body[body.length - 5] = (body[body.length - 5] ?? 0) ^ 255;
      database.writer.prepare('UPDATE reading_pack SET body = ?').run(body);
    });
    expect(await runVerb('verify', ['--data', data])).toBe(1);
    expect(printed.join('\n')).toMatch(/2026-03-02T00:00:00.000Z to .*probe pot-wax.*checksum/);
    copyFileSync(join(data, 'waxwarden.db'), join(folder, 'copy.db'));
    expect(await runVerb('restore', [join(folder, 'copy.db'), '--data', join(folder, 'new')])).toBe(1);
  });

  it('is not needed to see that a copy would be damaged: backup refuses, and leaves the copy before it', async () => {
    await fill();
    const copy = join(folder, 'copy.db');
    expect(await runVerb('backup', [copy, '--data', data])).toBe(0);
    const before = readFileSync(copy);
    await withStore(async (_, database) => {
      const body = database.writer.prepare<[], Buffer>('SELECT body FROM reading_pack').pluck().get();
      database.writer
        .prepare('UPDATE reading_pack SET body = ?')
        .run(Buffer.concat([body ?? Buffer.alloc(0), Buffer.alloc(1)]));
    });
    expect(await runVerb('backup', [copy, '--data', data])).toBe(1);
    expect(printed.at(-1)).toContain('set-aside');
    expect(readFileSync(copy).equals(before)).toBe(true);
    expect(await runVerb('set-aside', ['--data', data])).toBe(0);
    expect(await runVerb('backup', [copy, '--data', data])).toBe(0);
    expect(await runVerb('restore', [copy, '--data', join(folder, 'new')])).toBe(0);
  });
});

describe('export', () => {
  it('prints a span as CSV, and import takes it without changing anything', async () => {
    await fill();
    expect(
      await runVerb('export', ['--data', data, '--to', new Date(START + 10 * 60_000).toISOString()]),
    ).toBe(0);
    const text = printed.join('');
    expect(text.split('\n').slice(0, 2)).toEqual([
      'time,probe,celsius,quality',
      '2026-03-02T06:00:00.007Z,pot-wax,60,good',
    ]);
    const file = join(folder, 'out.csv');
    writeFileSync(file, text);
    const mapping = ['--time', 'time', '--value', 'celsius', '--probe-column', 'probe', '--data', data];
    await runVerb('import', [file, ...mapping]);
    expect(await withStore((store) => store.raw(everything))).toEqual(rows);
  });

  it('prints SenML that names probe, unit, time and value', async () => {
    await fill();
    await runVerb('export', ['--data', data, '--format', 'senml']);
    const records: unknown = JSON.parse(printed.join(''));
    expect(records).toHaveLength(300);
    expect(records).toContainEqual({ n: 'pot-wax', u: 'Cel', t: (START + 7) / 1000, v: 60 });
  });
});

describe('import', () => {
  const text = [
    'When;Temp F;Note',
    '02.03.2026 08:00:00;194;',
    '02.03.2026 08:01:00;203,9;',
    '31.02.2026 08:00:00;194;no such day',
    '02.03.2026 08:02:00;hot;',
  ].join('\n');
  const mapping = ['--time', 'When', '--value', 'Temp F', '--unit', 'fahrenheit', '--probe', 'pot-wax'];
  const clock = ['--time-format', 'day-first', '--zone', 'Europe/Berlin'];

  it('maps columns, unit and zone, names the rows that it refuses, and changes nothing the second time', async () => {
    const file = join(folder, 'logger.csv');
    writeFileSync(file, text);
    for (let time = 1; time <= 2; time += 1)
      expect(await runVerb('import', [file, ...mapping, ...clock, '--data', data])).toBe(1);
    expect(printed.filter((line) => line.includes('rows:'))).toEqual([
      '4 rows: 2 new, 0 there already, 2 refused',
      '4 rows: 0 new, 2 there already, 2 refused',
    ]);
    expect(printed.join('\n')).toContain(`${file}:4: "31.02.2026 08:00:00" is no instant`);
    const stored = await withStore((store) => store.raw(everything));
    expect(stored).toEqual([
      reading('pot-wax', Date.UTC(2026, 2, 2, 7), 90),
      reading('pot-wax', Date.UTC(2026, 2, 2, 7, 1), 95.5),
    ]);
  });

  it('is refused where there is no such file, and takes nothing from one without the column', async () => {
    const file = join(folder, 'logger.csv');
    writeFileSync(file, text);
    const nowhere = join(folder, 'none.csv');
    expect(await runVerb('import', [nowhere, ...mapping, ...clock, '--data', data])).toBe(2);
    expect(printed.join('\n')).toContain(`there is no file ${nowhere}`);
    const wrongMapping = mapping.with(1, 'Time');
    expect(await runVerb('import', [file, ...wrongMapping, ...clock, '--data', data])).toBe(2);
    expect(printed.join('\n')).toContain('has no column Time; it has When, Temp F, Note');
  });

  it('is refused without a column, with what it is called like', async () => {
    expect(await runVerb('import', ['x.csv', '--probe', 'a', '--data', data])).toBe(2);
    expect(printed.join('\n')).toContain('--time');
  });
});

describe('a command without its data', () => {
  it.each([
    ['verify', []],
    ['export', []],
    ['replay', []],
    ['set-aside', []],
    ['backup', ['copy.db']],
  ] as const)('%s says that there is no database, and makes no folder', async (verb, files) => {
    const missing = join(folder, 'mistyped');
    const paths = files.map((name) => join(folder, name));
    expect(await runVerb(verb, [...paths, '--data', missing])).toBe(1);
    expect(printed.join('\n')).toContain(`There is no database at ${join(missing, 'waxwarden.db')}.`);
    expect(existsSync(missing)).toBe(false);
  });

  it('restore says that there is no copy of that name', async () => {
    expect(await runVerb('restore', [join(folder, 'mistyped.db'), '--data', data])).toBe(1);
    expect(printed.join('\n')).toContain(`There is no database at ${join(folder, 'mistyped.db')}.`);
  });
});
