// A gateway with thirty probes that was cut off for a day and a half: its buffer, a real Mosquitto and intake, then
// qualification and rules over what the journal holds.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, expect, it } from 'vitest';
import { waxWatch } from '../../alerts/watch/wax-watch.ts';
import { startIntake } from './built-intake.ts';
import { tailReader } from '../../collector/journal/tail-reader.ts';
import { SampleBuffer } from '../../gateway/buffer.ts';
import { Uplink } from '../../gateway/uplink.ts';
import type { NightSheet } from '../../dashboard/api/night.ts';
import type { Entry } from '../../lab/entry.ts';
import type { Reading } from '../../lab/reading.ts';
import { epochMillis } from '../../wax/units.ts';
import { dipPot, labOf, probeOf, qualifyEntries } from '../rehearsal.ts';
import { serverForTests } from '../server-for-tests.ts';
import { startMosquitto } from './mosquitto.ts';
import { until } from './until.ts';

const cleanups: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

const PROBES = Array.from({ length: 30 }, (_, index) => `p${index + 1}`);
const MINUTE = 60_000;
const OUTAGE_MINUTES = 36 * 60;
/** One pot was at 160 °C for twenty minutes, half a day before the network came back. */
const HOT = { probe: 'p7', fromMinute: 24 * 60, toMinute: 24 * 60 + 20 };

const lab = labOf(
  PROBES.map((id) => ({ ...dipPot, id: `pot-${id}`, name: id })),
  PROBES.map((id) => probeOf(id, `pot-${id}`, { gateway: 'bench-1' })),
);

it('a gateway that comes back after a day and a half gives every reading once, the present first, no false alarm, and the sheet of its night is right', async () => {
  const broker = await startMosquitto();
  cleanups.push(broker.dispose);
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-outage-'));
  cleanups.push(() => rmSync(folder, { recursive: true, force: true }));
  const journalFolder = join(folder, 'journal');
  const intake = await startIntake({
    site: 'test-lab',
    journalFolder,
    broker: { kind: 'external', url: broker.url },
  });
  cleanups.push(intake.stop);
  await until(() => intake.status().broker.state === 'connected');
  const buffer = new SampleBuffer(join(folder, 'buffer.db'));
  const sweepAt = (at: number, minute: number) => {
    const isHot = (probe: string) => probe === HOT.probe && minute >= HOT.fromMinute && minute < HOT.toMinute;
    const samples = PROBES.map((probe) => ({
      probe,
      unit: 'Cel' as const,
      value: isHot(probe) ? 160 : 90 + (minute % 7) / 10,
      at,
    }));
    return { samples, isClockSet: true, sequence: buffer.add(samples, at, true) };
  };
  const end = Date.now();
  for (let minute = 0; minute < OUTAGE_MINUTES; minute += 1)
    sweepAt(end - (OUTAGE_MINUTES - minute) * MINUTE, minute);
  let isConnected = false;
  const uplink = new Uplink({ site: 'test-lab', gateway: 'bench-1', url: broker.url }, buffer, (line) => {
    isConnected ||= line.startsWith('connected');
  });
  cleanups.push(() => uplink.stop());
  await until(() => isConnected);
  await uplink.sendLive(sweepAt(Date.now(), OUTAGE_MINUTES));
  await until(() => buffer.size === 0);
  const reader = tailReader(journalFolder);
  cleanups.push(() => reader.close());
  const entries: Entry[] = [];
  let offset = 0;
  await until(() => {
    if (offset < intake.journalEnd()) {
      const tail = reader.read(offset, intake.journalEnd());
      entries.push(...tail.entries);
      offset = tail.next;
    }
    const sequences = entries.flatMap((entry) => (entry.kind === 'sequence' ? entry.sequences : []));
    return sequences.length > OUTAGE_MINUTES;
  });
  expect(entries.filter(({ kind }) => kind === 'rejection')).toEqual([]);
  const clean = qualifyEntries(entries, lab);
  const readings = clean.filter((entry) => entry.kind === 'readings');
  expect(readings[0]).toMatchObject({ timing: 'live' });
  expect(readings.filter(({ timing }) => timing === 'live')).toHaveLength(1);
  const stored = readings.flatMap((entry) => entry.readings);
  expect(stored).toHaveLength(PROBES.length * (OUTAGE_MINUTES + 1));
  expect(new Set(stored.map(({ probe, at }) => `${probe} ${at}`)).size).toBe(stored.length);

  const { alarmChanges, state } = waxWatch.stepAll(waxWatch.initial(), clean, lab);
  expect(alarmChanges.filter(({ kind }) => kind.startsWith('raised'))).toEqual([]);
  // What the past reveals is announced as past once no more of it comes.
  const later = { kind: 'tick' as const, receivedAt: epochMillis(Date.now() + 90_000) };
  const heat = waxWatch
    .step(state, later, lab)
    .findings.filter(({ rule }) => rule === 'fire-risk' || rule === 'over-ceiling');
  expect(heat.map(({ tense, subject }) => [tense, subject])).toEqual([['learned', `pot-${HOT.probe}`]]);

  const { heaters, probes } = await sheetOf(stored, end);
  expect(heaters).toHaveLength(PROBES.length);
  expect(heaters.map(({ gapMinutes }) => gapMinutes)).toEqual(PROBES.map(() => 0));
  expect(heaters.filter(({ minutesOverCeiling }) => minutesOverCeiling > 0)).toMatchObject([
    { station: `pot-${HOT.probe}`, minutesOverCeiling: HOT.toMinute - HOT.fromMinute, maxCelsius: 160 },
  ]);
  expect(probes).toEqual([]);
});

const DAY = [['07:30', '17:30']] as const;
/** In the lab of the test its Wednesday begins: twelve hours before, in the night, one pot was hot. */
const OPENS = Date.parse('2031-03-05T06:30:00Z');

/** The sheet of the morning on which the gateway came back, over its readings moved to then. */
async function sheetOf(stored: readonly Reading[], end: number): Promise<NightSheet> {
  const served = await serverForTests({ demo: false });
  cleanups.push(() => served.close());
  const { running } = served.lab;
  const { repository, store } = running;
  const workingHours = { mon: DAY, tue: DAY, wed: DAY, thu: DAY, fri: DAY, sat: [], sun: [] };
  repository.saveSite({ ...repository.lab().site, workingHours });
  for (const { id } of repository.lab().stations) repository.removeStation(id);
  for (const station of lab.stations) repository.saveStation(station);
  for (const probe of lab.probes) repository.saveProbe(probe);
  served.lab.pass((OPENS - running.now()) / 1000);
  const readings = stored.map((reading) => ({ ...reading, at: epochMillis(reading.at + OPENS - end) }));
  await store.apply({ readings, ruleState: {}, alongside: [], offset: store.offset() + 1 });
  const manager = await served.manager();
  return (await manager.send('GET', '/api/night')).json<NightSheet>();
}
