// The replay beside what a real pipeline raised, recorded and stored; each verb call reads the same data folder.

import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { openAlarmArchive } from '../../alerts/notices/alarm-archive.ts';
import { waxWatch } from '../../alerts/watch/wax-watch.ts';
import { openJournal } from '../../collector/journal/open-journal.ts';
import { tailReader } from '../../collector/journal/tail-reader.ts';
import { qualify } from '../../collector/qualify/qualify.ts';
import { openSqliteStore } from '../../collector/store/sqlite-store.ts';
import { openDatabase } from '../../lab/database/database.ts';
import type { Entry } from '../../lab/entry.ts';
import { openEntryRecord } from '../../lab/database/entry-record.ts';
import { openLabRepository } from '../../lab/database/sqlite-lab-repository.ts';
import { Pipeline } from '../../pipeline/pipeline.ts';
import { celsius, type EpochMillis, epochMillis } from '../../wax/units.ts';
import { runVerb } from '../command-line/run-verb.ts';

const START = Date.UTC(2026, 2, 4, 8);
const STEP_SECONDS = 10;
const HOURS = 3;

/** At work at 70 °C; over the ceiling of its wax from minute 60 to 110 and from 140 to 145. */
const valueAt = (minute: number): number =>
  (minute >= 60 && minute < 110) || (minute >= 140 && minute < 145) ? 118 : 70 + (minute % 6) / 4;

const readingsAt = (second: number, receivedAt: EpochMillis): Entry => {
  const at = epochMillis(START + second * 1000);
  const reading = { probe: 'pot-wax', at, celsius: celsius(valueAt(second / 60)) };
  return { kind: 'readings', receivedAt, gateway: 'gw', readings: [{ ...reading, quality: 'good' }] };
};
/** Of minute 70, when it was hot; delivered once more in minute 125. */
const REPEATED = { from: 70 * 60, to: 72 * 60, again: 125 * 60 };

/** In order of arrival; somebody acknowledges after a quarter of an hour. */
function* recordedPast(): Generator<Entry> {
  for (let second = 0; second < HOURS * 3600; second += STEP_SECONDS) {
    const receivedAt = epochMillis(START + second * 1000);
    yield { kind: 'tick', receivedAt };
    yield readingsAt(second, receivedAt);
    if (second !== REPEATED.again) continue;
    for (let old = REPEATED.from; old < REPEATED.to; old += STEP_SECONDS) yield readingsAt(old, receivedAt);
  }
}

let folder: string;
let data: string;
let printed: string[];

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-replay-'));
  data = join(folder, 'data');
  const database = openDatabase(join(data, 'waxwarden.db'));
  const repository = openLabRepository(database, () => epochMillis(START));
  const open = [['07:00', '18:00']] as const;
  const { site } = repository.lab();
  repository.saveSite({ ...site, workingHours: { ...site.workingHours, wed: open } });
  repository.saveStation({ id: 'pot', name: 'Pot', kind: 'melt-pot', wax: 'inlay-type-2' });
  const probe = { gateway: 'gw', station: 'pot', correction_celsius: 0, uncertainty_celsius: 0.2 };
  repository.saveProbe({ id: 'pot-wax', ...probe });
  const journal = await openJournal(join(data, 'journal'));
  const store = openSqliteStore(database);
  const archive = openAlarmArchive(database);
  const record = openEntryRecord(database);
  const reader = tailReader(join(data, 'journal'));
  const pipeline = new Pipeline({
    watch: waxWatch,
    qualify,
    store,
    reader,
    delay,
    lab: repository.lab,
    journalEnd: journal.end,
    append: journal.append,
    alongside: ({ alarmChanges, recorded }) => [archive.write(alarmChanges), record.write(recorded)],
  });
  const entries = [...recordedPast()];
  const until = entries.findIndex(({ receivedAt }) => receivedAt >= START + 75 * 60_000);
  await journal.append(entries.slice(0, until));
  await pipeline.drain();
  const alarm = waxWatch.openAlarms(pipeline.watchState).find(({ rule }) => rule === 'over-ceiling');
  const act = { type: 'acknowledge' as const, alarm: alarm?.id ?? '', by: 'Mira' };
  await journal.append([{ kind: 'act', receivedAt: epochMillis(START + 75 * 60_000), act }]);
  await journal.append(entries.slice(until));
  await pipeline.drain();
  await pipeline.stop();
  await journal.close();
  reader.close();
  await store.close();
  database.close();
});
afterAll(() => rmSync(folder, { recursive: true }));

beforeEach(() => {
  printed = [];
  const keep = (text: unknown): boolean => printed.push(String(text)) > 0;
  vi.spyOn(console, 'log').mockImplementation(keep);
  vi.spyOn(console, 'error').mockImplementation(keep);
});
afterEach(() => vi.restoreAllMocks());

const replayed = async (...args: readonly string[]): Promise<readonly string[]> => {
  printed = [];
  expect(await runVerb('replay', [...args, '--data', data])).toBe(0);
  return printed;
};
const totalOf = async (...args: readonly string[]) =>
  JSON.parse((await replayed(...args, '--format', 'json')).at(-1) ?? '');

describe('a replay of the store', () => {
  it('raises what was really raised, at the same instants, with what people did', async () => {
    const total = await totalOf('--beside', 'recorded');
    expect(total).toMatchObject({ readings: 1080, acts: 1 });
    expect(total.raised).toBeGreaterThanOrEqual(2);
    expect(total.beside).toMatchObject({ raised: total.raised, same: total.raised, more: 0, fewer: 0 });
  });

  it('prints the same twice, byte for byte, beginning and end of each alarm', async () => {
    const first = await replayed();
    expect(await replayed()).toEqual(first);
    expect(first.join('\n')).toMatch(
      /^2026-03-04T09:00:\d\d\.000Z {2}2026-03-04T09:5\d:\d\d\.000Z {2}over-ceiling {8}pot$/m,
    );
  });

  it('shows beside another lab file what comes later and what does not come', async () => {
    const otherFile = join(folder, 'other.yaml');
    writeFileSync(
      otherFile,
      [
        'site: { id: lab, name: Lab, time_zone: UTC }',
        'stations:',
        '  - id: pot',
        '    name: Pot',
        '    kind: melt-pot',
        '    wax: inlay-type-2',
        '    rules: { over-ceiling: { on_delay_seconds: 60, off_delay_seconds: 0 } }',
        'probes:',
        '  - { id: pot-wax, gateway: gw, station: pot }',
      ].join('\n'),
    );
    const lines = await replayed('--beside', otherFile);
    expect(lines.filter((line) => line.includes('over-ceiling')).at(0)).toMatch(/^later by 1\.0 min/);
    expect(lines.at(-1)).toContain(`${otherFile}: `);
  });

  it('reports that there is nothing in a span without readings', async () => {
    const lines = await replayed('--from', '2020-01-01T00:00:00Z', '--to', '2020-01-02T00:00:00Z');
    expect(lines).toEqual(['There are no readings in that span.']);
  });
});

describe('a replay of the journal', () => {
  it('comes to the same as one of the store', async () => {
    expect(await replayed('--source', 'journal', '--beside', 'recorded')).toHaveLength(
      (await replayed('--beside', 'recorded')).length,
    );
    // What was delivered twice is judged once.
    expect(await totalOf('--source', 'journal', '--beside', 'recorded')).toMatchObject({
      readings: 1080,
      beside: { more: 0, fewer: 0, earlier: 0, later: 0 },
    });
  });
});

describe('a replay of a CSV', () => {
  it('takes its columns as an import does, and names the rows that it leaves out', async () => {
    const file = join(folder, 'logger.csv');
    const rows = Array.from({ length: 60 }, (_, minute) => {
      const at = new Date(START + minute * 60_000).toISOString();
      return `${at},${minute >= 20 && minute < 40 ? 118 : 70}`;
    });
    writeFileSync(file, ['When,Temp', ...rows, 'soon,70'].join('\n'));
    const columns = ['--time', 'When', '--value', 'Temp', '--probe', 'pot-wax'];
    const lines = await replayed(file, ...columns);
    expect(lines.join('\n')).toMatch(/over-ceiling +pot/);
    expect(lines[0]).toBe(`${file}:62: "soon" is no instant in the form iso`);
  });

  it('names the probes that are at no station', async () => {
    const file = join(folder, 'stranger.csv');
    writeFileSync(file, 'When,Temp\n2026-03-04T08:00:00Z,70\n');
    const columns = ['--time', 'When', '--value', 'Temp', '--probe', 'stranger'];
    expect((await replayed(file, ...columns))[0]).toMatch(/Not judged, .*: stranger$/);
  });

  it('is refused in one line where there is no such file or no such column', async () => {
    const file = join(folder, 'columns.csv');
    writeFileSync(file, 'When,Temp\n2026-03-04T08:00:00Z,70\n');
    const refused = async (name: string, time: string): Promise<string> => {
      printed = [];
      const columns = ['--time', time, '--value', 'Temp', '--probe', 'pot-wax'];
      expect(await runVerb('replay', [name, ...columns, '--data', data])).toBe(2);
      expect(printed).toHaveLength(1);
      return printed.join();
    };
    expect(await refused(file, 'Time')).toContain(`${file} has no column Time; it has When, Temp`);
    expect(await refused(join(folder, 'none.csv'), 'When')).toContain('there is no file');
  });
});

describe('a replay that was called wrongly', () => {
  it.each([
    [['--source', 'cloud'], 'none of store, journal'],
    [['--from', 'yesterday'], 'is not an instant'],
    [['a.csv', '--source', 'journal'], 'either FILE.csv or --source journal'],
    [['a.csv'], 'either --probe or --probe-column'],
  ])('is refused: %o', async (args, message) => {
    expect(await runVerb('replay', [...args, '--data', data])).toBe(2);
    expect(printed.join('\n')).toContain(message);
  });

  it('names each problem of a lab file by line', async () => {
    const file = join(folder, 'wrong.yaml');
    writeFileSync(file, 'site: { id: lab, name: Lab, time_zone: Nowhere }\n');
    expect(await runVerb('replay', ['--beside', file, '--data', data])).toBe(2);
    expect(printed[0]).toMatch(/wrong\.yaml:1:\d+: /);
  });

  it('reports that there is no data folder', async () => {
    expect(await runVerb('replay', ['--data', join(folder, 'none')])).toBe(1);
  });
});
