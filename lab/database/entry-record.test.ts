import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { epochMillis } from '../../wax/units.ts';
import { type LabDatabase, openDatabase } from './database.ts';
import { isRecorded, openEntryRecord, readRecordedEntries } from './entry-record.ts';

let folder: string;
let database: LabDatabase;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-entries-'));
  database = openDatabase(join(folder, 'lab.db'));
});
afterEach(() => {
  database.close();
  rmSync(folder, { recursive: true });
});

const act = (minute: number) => ({
  kind: 'act' as const,
  receivedAt: epochMillis(minute * 60_000),
  act: { type: 'cleaned' as const, station: 'pot', by: 'Mira', reason: 'Friday' },
});
const offline = { kind: 'gateway' as const, gateway: 'gw', online: false, receivedAt: epochMillis(90_000) };

describe('the record of what people did and gateways reported', () => {
  it('gives back what came in a span, in its order, without the names of people and their reasons', () => {
    const record = openEntryRecord(database);
    database.transaction(() => record.write([act(1), offline, act(2)])(database.writer));
    expect(record.between(epochMillis(60_000), epochMillis(120_000))).toEqual([
      { ...act(1), act: { type: 'cleaned', station: 'pot', by: '', reason: 'recorded' } },
      offline,
    ]);
  });

  it('is empty in a database of before it was kept', () => {
    expect(readRecordedEntries(database.writer, epochMillis(0), epochMillis(1))).toEqual([]);
  });

  it('leaves out what changes nothing that the rules see', () => {
    expect(isRecorded({ kind: 'tick', receivedAt: epochMillis(1) })).toBe(false);
    const note = { type: 'note' as const, alarm: 'a', text: 'seen', by: 'Mira' };
    expect(isRecorded({ kind: 'act', receivedAt: epochMillis(1), act: note })).toBe(false);
    const stopped = { kind: 'tick' as const, receivedAt: epochMillis(2) };
    const started = { ...stopped, receivedAt: epochMillis(100_000), after: stopped };
    expect([act(1), offline, started].every(isRecorded)).toBe(true);
  });
});
