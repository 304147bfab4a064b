// A running lab for tests of the web server: the real database, repository, store and alarm life, with a clock
// that the test moves and changes that the test causes. It has no broker, no journal and no rules.

import type { Agent } from 'node:https';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Alarm, AlarmChange } from '../alerts/watch/life/alarm.ts';
import { type AlarmEvent, alarmStep, normalAlarm } from '../alerts/watch/life/alarm-step.ts';
import { openNoticeDesk } from '../alerts/notices/notice-desk.ts';
import { noticeKeys } from '../alerts/notices/channels/notice-keys.ts';
import { ruleFigures } from '../alerts/watch/engine/rule-figures.ts';
import type { StationStatus } from '../alerts/watch/engine/station-status.ts';
import { openSqliteStore } from '../collector/store/sqlite-store.ts';
import type { Store } from '../collector/store/store.ts';
import type { QuarantineRow } from '../collector/quarantine.ts';
import { failing, working } from '../collector/part-health.ts';
import type { SeenStatus } from '../collector/qualify/device-status.ts';
import type { SeenGateway, SeenProbe } from '../collector/qualify/probe-record.ts';
import type { RunningLab } from '../dashboard/queries/running-lab.ts';
import type { LabChange } from '../pipeline/published.ts';
import type { Act } from '../lab/act.ts';
import { type LabDatabase, openDatabase } from '../lab/database/database.ts';
import { openConnectionSettings } from '../lab/database/connection-settings.ts';
import { mailServerOf } from '../lab/database/mail-setting.ts';
import { openGroupLinkTable } from '../lab/group/group-link-table.ts';
import { type GroupOfferTable, openGroupOfferTable } from '../lab/group/group-offer-table.ts';
import { openEntryRecord } from '../lab/database/entry-record.ts';
import { openPayloadMappings } from '../lab/database/payload-mapping-table.ts';
import type { Station } from '../lab/station.ts';
import { problem } from '../wax/result.ts';
import { openLabRepository } from '../lab/database/sqlite-lab-repository.ts';
import { celsius, type EpochMillis, epochMillis } from '../wax/units.ts';

export interface LabForTests {
  readonly running: RunningLab;
  readonly groupOffers: GroupOfferTable;
  readonly database: LabDatabase;
  readonly acts: readonly Act[];
  /** Moves the clock. */
  readonly pass: (seconds: number) => void;
  readonly raise: (rule: Alarm['rule'], station: string, priority?: Alarm['priority']) => Alarm;
  /** Time has passed for the notification plan. */
  readonly tick: () => void;
  readonly step: (id: string, event: AlarmEvent) => void;
  readonly measure: (probe: string, value: number) => Promise<void>;
  readonly stand: (status: Partial<StationStatus> & { readonly station: string }) => void;
  readonly tell: (change: LabChange) => void;
  readonly quarantine: (row: QuarantineRow) => void;
  readonly gateway: (seen: SeenGateway) => void;
  readonly reportStatus: (probe: string, status: SeenStatus) => void;
  readonly sicken: (part: string) => void;
  readonly close: () => Promise<void>;
}

const POT: Station = { id: 'pot-1', name: 'Melt pot 1', kind: 'melt-pot', wax: 'inlay-type-2' };
const SHELF: Station = { id: 'shelf-1', name: 'Pattern shelf', kind: 'shelf', wax: 'inlay-type-2' };

export const labForTests = (
  options: {
    readonly demo?: boolean;
    readonly pushHosts?: readonly string[];
    readonly pushAgent?: Agent;
    /** Where readings are kept; else in the database. */
    readonly openStore?: (database: LabDatabase) => Store;
  } = {},
): LabForTests => {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-server-'));
  const database = openDatabase(join(folder, 'lab.sqlite'));
  // What a power cut would lose is no matter of these tests.
  database.writer.pragma('synchronous = OFF');
  const startedAt = epochMillis(Date.parse('2031-03-03T08:00:00Z'));
  let now: EpochMillis = startedAt;
  const repository = openLabRepository(database, () => now, ruleFigures);
  repository.saveSite({
    ...repository.lab().site,
    id: 'test-lab',
    name: 'Test lab',
    timeZone: 'Europe/Berlin',
  });
  repository.saveStation(POT);
  repository.saveStation(SHELF);
  const trusted = { gateway: 'gw-1', correction_celsius: 0, uncertainty_celsius: 0.5 };
  repository.saveProbe({ id: 'pot-1-a', station: 'pot-1', ...trusted });
  const store = (options.openStore ?? openSqliteStore)(database);
  const entryRecord = openEntryRecord(database);
  const alarms = new Map<string, Alarm>();
  const changes: AlarmChange[] = [];
  const statuses = new Map<string, StationStatus>();
  const seen = new Map<string, SeenProbe>();
  const rows: QuarantineRow[] = [];
  const gateways: SeenGateway[] = [];
  const deviceStatuses = new Map<string, SeenStatus>();
  const sick = new Set<string>();
  const acts: Act[] = [];
  const listeners = new Set<(change: LabChange) => void>();
  const tell = (change: LabChange): void => {
    for (const listener of listeners) listener(change);
  };
  repository.onChange(() => tell({ kind: 'lab' }));
  const apply = (alarm: Alarm, event: AlarmEvent) => {
    const step = alarmStep(alarm, event);
    alarms.set(step.alarm.id, step.alarm);
    changes.push(...step.changes);
    database.transaction(() => notices.write(step.changes, null)(database.writer));
    for (const change of step.changes) tell({ kind: 'alarm', change });
    return step;
  };

  const connections = openConnectionSettings(database);
  const notices = openNoticeDesk({
    database,
    lab: repository.lab,
    keys: noticeKeys(join(folder, 'notice-keys.json')),
    now: () => now,
    after: () => () => {},
    deliver: async () => ({ kind: 'taken', receivers: 'some' }),
    mail: () => {
      const { mail } = connections.setting();
      return mail === null ? null : mailServerOf(mail);
    },
    contact: null,
    pushHosts: options.pushHosts ?? [],
    webhookHosts: ['127.0.0.1'],
    reportSelfCheck: () => {},
    openCount: () => running.openAlarms().length,
    ...(options.pushAgent !== undefined && { pushAgent: options.pushAgent }),
  });
  const groupOffers = openGroupOfferTable(database);
  const running: RunningLab = {
    notices,
    demo: options.demo ?? true,
    version: '0.0.0-test',
    startedAt,
    now: () => now,
    lab: repository.lab,
    repository,
    store,
    statuses: () => [...statuses.values()],
    openAlarms: () =>
      [...alarms.values()].filter((alarm) => alarm.active || !alarm.acknowledged || alarm.latched),
    alarmsBetween: (from, to, limit) =>
      [...alarms.values()]
        .filter((alarm) => alarm.raisedAt >= from && alarm.raisedAt < to)
        .sort((first, second) => second.raisedAt - first.raisedAt)
        .slice(0, limit),
    alarm: (id) => alarms.get(id) ?? null,
    alarmChanges: (id) => changes.filter((change) => change.alarm.id === id),
    alarmChangesBetween: (from, to, limit) =>
      changes.filter(({ at }) => at >= from && at < to).slice(0, limit),
    recordedEntries: entryRecord.between,
    seenProbes: () => [...seen.values()],
    seenProbe: (id) => seen.get(id),
    seenElectrical: () => new Map(),
    electrical: () => undefined,
    deviceStatus: (probe) => deviceStatuses.get(probe),
    gatewayOnline: () => true,
    seenGateways: () => gateways,
    quarantine: (limit) => rows.slice(0, limit),
    mappings: openPayloadMappings(database),
    groupLink: openGroupLinkTable(database),
    groupOffers,
    connections,
    act: async (act) => {
      if ('alarm' in act) {
        const alarm = alarms.get(act.alarm);
        if (alarm === undefined) return { ok: false, code: 'unknown-alarm', message: 'No such alarm.' };
        const { refusal } = apply(alarm, { type: 'act', at: now, act });
        if (refusal !== undefined) return { ok: false, ...refusal };
      }
      acts.push(act);
      database.transaction(() => entryRecord.write([{ kind: 'act', receivedAt: now, act }])(database.writer));
      return { ok: true };
    },
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    health: async () => ({
      store: sick.has('store')
        ? failing(problem('store-away', { server: 'http://store', reason: 'no answer' }))
        : working('embedded', { size_megabytes: 1 }),
    }),
  };

  return {
    running,
    groupOffers,
    database,
    acts,
    pass: (seconds) => {
      now = epochMillis(now + seconds * 1000);
    },
    tick: () => database.transaction(() => notices.write([], now)(database.writer)),
    raise: (rule, station, priority = 'high') => {
      const identity = { rule, subject: station, subjectKind: 'station', priority, latches: true } as const;
      return apply(normalAlarm(identity, now), {
        type: 'begins',
        at: now,
        tense: 'now',
        evidence: { peak_celsius: 131.5 },
      }).alarm;
    },
    step: (id, event) => {
      const alarm = alarms.get(id);
      if (alarm !== undefined) apply(alarm, event);
    },
    measure: async (probe, value) => {
      const reading = { probe, at: now, celsius: celsius(value), quality: 'good' } as const;
      await store.apply({ readings: [reading], ruleState: {}, alongside: [], offset: store.offset() + 1 });
      const firstSeen = seen.get(probe)?.firstSeen ?? now;
      seen.set(probe, {
        id: probe,
        gateway: 'gw-1',
        firstSeen,
        lastReadingAt: now,
        celsius: value,
        quality: 'good',
      });
    },
    stand: (status) => {
      const whole: StationStatus = {
        condition: 'in-window',
        celsius: null,
        at: now,
        celsiusPerHour: null,
        minutesToCeiling: null,
        doseShare: null,
        doseEquivalentHours: null,
        swingCelsius: null,
        ...status,
      };
      statuses.set(whole.station, whole);
      tell({ kind: 'statuses', statuses: [whole] });
    },
    tell,
    quarantine: (row) => rows.unshift(row),
    gateway: (seenGateway) => gateways.push(seenGateway),
    reportStatus: (probe, status) => deviceStatuses.set(probe, status),
    sicken: (part) => sick.add(part),
    close: async () => {
      await notices.stop();
      await store.close();
      database.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
};
