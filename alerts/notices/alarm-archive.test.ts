import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type LabDatabase, openDatabase } from '../../lab/database/database.ts';
import { actAt, instant, potLab, readingOf } from '../../tests/rehearsal.ts';
import { openAlarmArchive } from './alarm-archive.ts';
import { waxWatch } from '../watch/wax-watch.ts';

let folder: string;
let database: LabDatabase;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'alarm-archive-'));
  database = openDatabase(join(folder, 'lab.sqlite'));
});
afterEach(() => {
  database.close();
  rmSync(folder, { recursive: true });
});

const id = `pot-1.over-ceiling.${instant(10)}`;
const { alarmChanges } = waxWatch.stepAll(
  waxWatch.initial(),
  [
    readingOf('p1', 0, 101),
    readingOf('p1', 10, 101),
    actAt(12, { type: 'acknowledge', alarm: id, by: 'Mira' }),
  ],
  potLab(),
);

describe('the alarm archive', () => {
  it('keeps every change with who and when, and the newest state of the alarm, over a restart', () => {
    const archive = openAlarmArchive(database);
    database.transaction(() => archive.write(alarmChanges)(database.writer));
    database.close();
    database = openDatabase(join(folder, 'lab.sqlite'));
    const again = openAlarmArchive(database);
    expect(again.alarm(id)).toMatchObject({ acknowledged: true, acknowledgedBy: 'Mira' });
    expect(again.alarmChanges(id)).toEqual(alarmChanges);
    expect(again.alarmsBetween(instant(0), instant(20), 10).map((alarm) => alarm.id)).toEqual([id]);
    expect(again.alarmsBetween(instant(11), instant(20), 10)).toEqual([]);
    expect(again.alarm('nobody.knows.0')).toBeNull();
  });

  it('lists no alarm that was hidden by design from its beginning to its end', () => {
    // Over its ceiling it is outside its window too, behind the first cause.
    const hot = Array.from({ length: 400 }, (_, index) => readingOf('p1', 10 * index, 101));
    const step = waxWatch.stepAll(waxWatch.initial(), hot, potLab());
    const hidden = step.alarmChanges.filter(({ alarm }) => alarm.rule === 'outside-window');
    expect(hidden.some(({ kind }) => kind === 'raised')).toBe(true);
    const archive = openAlarmArchive(database);
    database.transaction(() => archive.write([...hidden, ...alarmChanges])(database.writer));
    expect(archive.alarmsBetween(instant(0), instant(4000), 10).map(({ rule }) => rule)).toEqual([
      'over-ceiling',
    ]);
    expect(archive.alarmChanges(hidden.at(-1)?.alarm.id ?? '').length).toBeGreaterThan(0);
  });

  it('lets nobody change or delete what was written', () => {
    const archive = openAlarmArchive(database);
    database.transaction(() => archive.write(alarmChanges)(database.writer));
    expect(() => database.writer.exec("UPDATE alarm_change SET by = 'nobody'")).toThrow(/never changed/);
    expect(() => database.writer.exec('DELETE FROM alarm_change')).toThrow(/never deleted/);
  });
});
