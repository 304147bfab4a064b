// A day of a lab through a real pipeline: heat, silence, a stop of the program, changed settings, patterns that come and go
// and what people do. What was raised in it beside a replay of the same store, and beside a trial of the screens.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { openAlarmArchive, readAlarmChanges } from '../../alerts/notices/alarm-archive.ts';
import { type Raised, findRaised } from '../../alerts/watch/replay/replay.ts';
import { stationsOnTrial, type Trial, trialInSlices } from '../../alerts/watch/replay/trial.ts';
import type { RuleKind } from '../../alerts/watch/rules/all-rules.ts';
import { waxWatch } from '../../alerts/watch/wax-watch.ts';
import { openJournal } from '../../collector/journal/open-journal.ts';
import { tailReader } from '../../collector/journal/tail-reader.ts';
import { qualify } from '../../collector/qualify/qualify.ts';
import { openSqliteStore } from '../../collector/store/sqlite-store.ts';
import { trialPast } from '../../dashboard/server/routes/set-up/trial-past.ts';
import type { Act } from '../../lab/act.ts';
import { openDatabase } from '../../lab/database/database.ts';
import type { Entry } from '../../lab/entry.ts';
import { openEntryRecord } from '../../lab/database/entry-record.ts';
import type { Pattern } from '../../lab/pattern.ts';
import { openLabRepository } from '../../lab/database/sqlite-lab-repository.ts';
import { Pipeline } from '../../pipeline/pipeline.ts';
import { celsius, epochMillis } from '../../wax/units.ts';
import { runVerb } from '../command-line/run-verb.ts';

const START = Date.UTC(2026, 2, 4, 8);
const MINUTES = 325;
const at = (minute: number) => epochMillis(START + Math.round(minute * 60_000));
const iso = (minute: number) => new Date(at(minute)).toISOString();
const isIn = (minute: number, ...spans: readonly (readonly [number, number])[]): boolean =>
  spans.some(([from, to]) => minute >= from && minute < to);

/** The program does not run; what was measured comes when it does again. */
const STOP = [150, 175] as const;
const GATEWAYS = { 'pot-1': 'heaters', 'pot-2': 'heaters', shelf: 'places', room: 'places' } as const;
type Place = keyof typeof GATEWAYS;
const COURSES: Readonly<Record<Place, (minute: number) => number | null>> = {
  'pot-1': (minute) =>
    isIn(minute, [260, 275])
      ? null
      : isIn(minute, [60, 80], [100, 101], [110, 115])
        ? 118
        : 70 + (minute % 7) / 4,
  'pot-2': (minute) =>
    isIn(minute, [200, 230], [260, 275])
      ? null
      : isIn(minute, [90, 96], [155, 165])
        ? 116 + Math.sin(minute) / 4
        : // Under its thermostat; its probe is stuck from here on.
          72 + 1.5 * Math.sin((2 * Math.PI * Math.min(minute, 275)) / 12),
  shelf: (minute) => (isIn(minute, [130, 240]) ? 33 : 21 + Math.sin(minute / 60) / 4),
  room: (minute) => 21 + Math.sin(minute / 60) / 3,
};

const pattern: Pattern = {
  id: 'w1',
  caseReference: 'case 1',
  wax: 'inlay-type-2',
  technique: 'dipped',
  length_millimetres: 40,
  tolerance_micrometres: 30,
  madeAt: iso(120),
  madeBy: 'Mira',
  stays: [{ station: 'shelf', from: iso(120), to: null }],
  fate: null,
};

function* entriesOf(second: number): Generator<Entry> {
  const minute = second / 60;
  const receivedAt = at(minute);
  if (isIn(minute, STOP)) return;
  const startedAt = at(minute < STOP[0] ? -20 : STOP[1]);
  if (second % 5 === 0)
    yield { kind: 'tick', receivedAt, process: { startedAt, runningMillis: receivedAt - startedAt } };
  if (second % 10 !== 0) return;
  const measuredFrom = minute === STOP[1] ? STOP[0] * 60 : second;
  for (let measured = measuredFrom; measured <= second; measured += 10)
    for (const [probe, gateway] of Object.entries(GATEWAYS)) {
      const value = COURSES[probe as Place](measured / 60);
      if (value === null) continue;
      const reading = { probe, at: at(measured / 60), celsius: celsius(value), quality: 'good' as const };
      yield { kind: 'readings', receivedAt, gateway, readings: [reading] };
    }
}

const folder = mkdtempSync(join(tmpdir(), 'waxwarden-agreement-'));
const data = join(folder, 'data');
const database = openDatabase(join(data, 'waxwarden.db'));
let now = at(-30);
const repository = openLabRepository(database, () => now);
const store = openSqliteStore(database);
const record = openEntryRecord(database);

beforeAll(async () => {
  const open = [['07:00', '18:00']] as const;
  const { site } = repository.lab();
  repository.saveSite({ ...site, workingHours: { ...site.workingHours, wed: open } });
  for (const id of ['pot-1', 'pot-2'])
    repository.saveStation({ id, name: id, kind: 'melt-pot', wax: 'inlay-type-2' });
  repository.saveStation({ id: 'shelf', name: 'Shelf', kind: 'shelf', wax: 'inlay-type-2' });
  repository.saveStation({ id: 'room', name: 'Room', kind: 'room', wax: null });
  for (const [id, gateway] of Object.entries(GATEWAYS))
    repository.saveProbe({ id, gateway, station: id, correction_celsius: 0, uncertainty_celsius: 0.2 });
  const journal = await openJournal(join(data, 'journal'));
  const archive = openAlarmArchive(database);
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
  const acts = (act: Act): Entry => ({ kind: 'act', receivedAt: now, act });
  const onAlarm = (rule: RuleKind, type: 'acknowledge' | 'reset'): Entry => {
    const alarm = waxWatch.openAlarms(pipeline.watchState).find((open) => open.rule === rule)?.id ?? '';
    return acts({ type, alarm, by: 'Mira' });
  };
  const pot = repository.lab().stations.find(({ id }) => id === 'pot-1');
  const events: Readonly<Record<number, () => readonly Entry[]>> = {
    65: () => [onAlarm('over-ceiling', 'acknowledge')],
    85: () => [onAlarm('over-ceiling', 'reset')],
    // From now on a minute over the ceiling raises nothing at this pot.
    95: () => {
      if (pot !== undefined)
        repository.saveStation({ ...pot, rules: { 'over-ceiling': { on_delay_seconds: 60 } } });
      return [];
    },
    120: () => {
      repository.savePattern(pattern);
      return [acts({ type: 'pattern-made', pattern: 'w1', station: 'shelf', by: 'Mira' })];
    },
    235: () => {
      const reason = 'ready';
      repository.savePattern({ ...pattern, fate: { kind: 'invested', at: iso(235), by: 'Mira', reason } });
      return [acts({ type: 'pattern-ended', pattern: 'w1', fate: 'invested', reason, by: 'Mira' })];
    },
    260: () => [{ kind: 'gateway', receivedAt: now, gateway: 'heaters', online: false }],
    280: () => [{ kind: 'self-check', receivedAt: now, part: 'store', name: '', ok: false, detail: '' }],
    285: () => [{ kind: 'self-check', receivedAt: now, part: 'store', name: '', ok: true, detail: '' }],
    300: () => [acts({ type: 'planned-off', station: 'pot-2', by: 'Mira' })],
  };
  let entries: Entry[] = [];
  const takeIn = async (): Promise<void> => {
    await journal.append(entries);
    await pipeline.drain();
    entries = [];
  };
  for (let second = 0; second <= MINUTES * 60; second += 5) {
    const event = second % 60 === 0 ? events[second / 60] : undefined;
    if (event !== undefined || second === MINUTES * 60) await takeIn();
    now = at(second / 60);
    entries.push(...(event?.() ?? []), ...entriesOf(second));
  }
  await takeIn();
  await pipeline.stop();
  await journal.close();
  reader.close();
}, 120_000);
afterAll(async () => {
  await store.close();
  database.close();
  rmSync(folder, { recursive: true });
});
afterEach(() => vi.restoreAllMocks());

const recorded = (): readonly Raised[] =>
  findRaised(readAlarmChanges(database.writer, at(0), epochMillis(at(MINUTES) + 1)));

const replayed = async (...args: readonly string[]): Promise<readonly string[]> => {
  const printed: string[] = [];
  vi.spyOn(console, 'log').mockImplementation((text) => printed.push(String(text)));
  expect(await runVerb('replay', [...args, '--data', data])).toBe(0);
  return printed;
};

describe('a day with heat, silence, a stop of the program, changed settings and patterns', () => {
  it('raises what it is made for', () => {
    const raised = recorded().map(({ rule, subject }) => `${rule} ${subject}`);
    expect(raised).toEqual(
      expect.arrayContaining([
        'over-ceiling pot-1',
        'over-ceiling pot-2',
        'probe-silent pot-2',
        'gateway-lost heaters',
        'gateway-lost site',
        'storage-warm shelf',
        'pattern-due w1',
        'store-failing site',
      ]),
    );
  });

  it('is replayed from the store with the same alarms at the same instants', async () => {
    const lines = await replayed('--beside', 'recorded');
    expect(lines.slice(0, -1).filter((line) => !line.startsWith('same'))).toEqual([]);
    expect(lines).toHaveLength(recorded().length + 1);
  });

  it('is replayed by the settings of its last minute with --lab now', async () => {
    const lines = await replayed('--lab', 'now', '--beside', 'recorded');
    expect(lines.filter((line) => /^(later|fewer).* over-ceiling +pot-1$/.test(line))).toHaveLength(1);
  });
});

describe('a trial of the present figures', () => {
  const trialOf = async (rule: RuleKind, stations: readonly string[]): Promise<Trial> => {
    const change = { stations, rule, values: {} };
    const running = { lab: repository.lab, repository, store, now: () => epochMillis(at(MINUTES) + 1) };
    const past = await trialPast(
      { ...running, recordedEntries: record.between },
      stationsOnTrial(repository.lab(), change),
    );
    const work = trialInSlices(past.entries, past.labAt, change);
    for (;;) {
      const step = work.next();
      if (step.done === true) return step.value;
    }
  };

  it.each([
    ['over-ceiling', 2],
    ['probe-jump', 4],
    ['probe-silent', 1],
    ['storage-warm', 1],
    ['probe-stuck', 1],
    ['no-heat', 0],
  ] as const)('of %s raises at two stations at once what was really raised there', async (kind, count) => {
    const stations = ['pot-2', 'shelf'];
    const really = recorded().filter(({ rule, subject }) => rule === kind && stations.includes(subject));
    expect(really).toHaveLength(count);
    expect((await trialOf(kind, stations)).before).toEqual(really);
  });
});
