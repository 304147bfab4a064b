// A lab with a real database, store and archive and a clock that the test moves, as far as the link to the group needs it.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openAlarmArchive } from '../../alerts/notices/alarm-archive.ts';
import type { Alarm } from '../../alerts/watch/life/alarm.ts';
import { alarmStep, normalAlarm } from '../../alerts/watch/life/alarm-step.ts';
import { openSqliteStore } from '../../collector/store/sqlite-store.ts';
import { openDatabase } from '../../lab/database/database.ts';
import { type GroupLink, NO_GROUP_LINK } from '../../lab/group/group-link.ts';
import { openGroupLinkTable } from '../../lab/group/group-link-table.ts';
import { openGroupOfferTable } from '../../lab/group/group-offer-table.ts';
import type { Reading } from '../../lab/reading.ts';
import { openLabRepository } from '../../lab/database/sqlite-lab-repository.ts';
import { type GroupReporting, startGroupReporting } from '../../pipeline/group-link/group-reporting.ts';
import type { LabChange } from '../../pipeline/published.ts';
import { celsius, epochMillis } from '../../wax/units.ts';

export type GroupLinkLab = Awaited<ReturnType<typeof groupLinkLab>>;

export const groupLinkLab = async (site: string, startsAt: number) => {
  let now = startsAt;
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-group-link-'));
  const database = openDatabase(join(folder, 'lab.sqlite'));
  // What a power cut would lose is no matter of these tests.
  database.writer.pragma('synchronous = OFF');
  const repository = openLabRepository(database, () => epochMillis(now));
  repository.saveSite({ ...repository.lab().site, id: site, name: `Lab ${site}`, timeZone: 'Europe/Berlin' });
  repository.saveStation({ id: 'pot-1', name: 'Melt pot', kind: 'melt-pot', wax: 'inlay-type-2' });
  repository.saveProbe({
    id: 'pot-1-a',
    gateway: 'gw-1',
    station: 'pot-1',
    correction_celsius: 0,
    uncertainty_celsius: 0.5,
  });
  const store = openSqliteStore(database);
  const archive = openAlarmArchive(database);
  const table = openGroupLinkTable(database);
  const offers = openGroupOfferTable(database);
  const open = new Map<string, Alarm>();
  const listeners = new Set<(change: LabChange) => void>();
  repository.onChange(() => publish({ kind: 'lab' }));
  const publish = (change: LabChange): void => {
    for (const listener of listeners) listener(change);
  };
  let offset = 0;
  const apply = async (readings: readonly Reading[], changes: Parameters<typeof archive.write>[0]) => {
    offset += 100;
    const alongside = [archive.write(changes), ...table.owe(readings, offset)];
    await store.apply({ readings, ruleState: {}, alongside, offset });
  };
  let reporting: GroupReporting | null = null;
  const start = (): void => {
    reporting = startGroupReporting(
      {
        now: () => epochMillis(now),
        repository,
        store,
        archive,
        offset: () => offset,
        statuses: () => [],
        openAlarms: () => [...open.values()],
        patternOutlook: () => undefined,
        dayFigures: async (from, to) => ({
          places: [],
          heaters: [],
          stations: 1,
          alarms: { announced: archive.changesBetween(from, to, 1000).length, nuisance: 0 },
        }),
      },
      table,
      offers,
      (listener) => {
        listeners.add(listener);
        return () => listeners.delete(listener);
      },
    );
  };
  const stop = async (): Promise<void> => {
    await reporting?.stop();
    reporting = null;
  };
  return {
    repository,
    table,
    offers,
    start,
    stop,
    status: () => reporting?.status(),
    switchOn: (link: Partial<GroupLink> & { readonly url: string }) =>
      table.save({ ...NO_GROUP_LINK, isOn: true, ...link }),
    now: () => now,
    pass: (millis: number) => {
      now += millis;
    },
    measure: (...measured: readonly (readonly [at: number, value: number])[]) =>
      apply(
        measured.map(([at, value]) => ({
          probe: 'pot-1-a',
          at: epochMillis(at),
          celsius: celsius(value),
          quality: 'good',
        })),
        [],
      ),
    /** Two changes: raised and acknowledged by a person, with a reason that was typed. */
    raiseAndAcknowledge: async (person: string) => {
      const at = epochMillis(now);
      const identity = {
        rule: 'over-ceiling',
        subject: 'pot-1',
        subjectKind: 'station',
        priority: 'high',
        latches: false,
      } as const;
      const raised = alarmStep(normalAlarm(identity, at), {
        type: 'begins',
        at,
        tense: 'now',
        evidence: { peak_celsius: 131.5 },
      });
      const act = { type: 'acknowledge', alarm: raised.alarm.id, by: person, at } as const;
      const acknowledged = alarmStep(raised.alarm, { type: 'act', at, act });
      open.set(acknowledged.alarm.id, acknowledged.alarm);
      for (const change of [...raised.changes, ...acknowledged.changes]) {
        await apply([], [change]);
        publish({ kind: 'alarm', change });
      }
    },
    close: async () => {
      await stop();
      await store.close();
      database.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
};
