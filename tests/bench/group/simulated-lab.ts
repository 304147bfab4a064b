// One simulated lab of the group bench: 30 probes at one reading in ten seconds, reported by a lab's own publisher. Its
// readings are computed instead of stored, and what is delivered is remembered in memory: the group is what is measured.

import type { StationStatus } from '../../../alerts/watch/engine/station-status.ts';
import type { Alarm, AlarmChange } from '../../../alerts/watch/life/alarm.ts';
import { alarmStep, normalAlarm } from '../../../alerts/watch/life/alarm-step.ts';
import { type GroupLink, NO_GROUP_LINK } from '../../../lab/group/group-link.ts';
import type { GroupLinkTable } from '../../../lab/group/group-link-table.ts';
import type { GroupOfferTable } from '../../../lab/group/group-offer-table.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { Reading } from '../../../lab/reading.ts';
import { startGroupReporting } from '../../../pipeline/group-link/group-reporting.ts';
import type { LabChange } from '../../../pipeline/published.ts';
import { celsius, type EpochMillis, epochMillis, MILLIS_PER_MINUTE } from '../../../wax/units.ts';

const NO_OFFERS: GroupOfferTable = {
  all: () => [],
  offer: () => undefined,
  openCount: () => 0,
  dueAnswer: () => undefined,
  take: () => {},
  answer: () => {},
  settleAnswer: () => {},
  leave: () => {},
  onChange: () => () => {},
};

const STATIONS = 10;
const PROBES_A_STATION = 3;
const STEP_MILLIS = 10_000;

const stations = Array.from({ length: STATIONS }, (_, index) => `pot-${index + 1}`);

const labOf = (site: string): Lab => ({
  site: {
    id: site,
    name: `Lab ${site}`,
    timeZone: 'Europe/Berlin',
    holidays: [],
    workingHours: { mon: [], tue: [], wed: [], thu: [], fri: [], sat: [], sun: [] },
  },
  stations: stations.map((id) => ({ id, name: `Pot ${id}`, kind: 'melt-pot', wax: 'inlay-type-2' })),
  probes: stations.flatMap((station) =>
    Array.from({ length: PROBES_A_STATION }, (_, index) => ({
      id: `${station}-${index}`,
      gateway: 'gw',
      station,
      correction_celsius: 0,
      uncertainty_celsius: 0.5,
    })),
  ),
  charges: [],
  patterns: [],
  people: [],
  waxOverrides: {},
});

/** Where it swings, so that no two minutes are the same. */
const celsiusAt = (at: number) => celsius(64 + Math.sin(at / 300_000));

/** Minutes that are over are due until they are delivered, as in a lab's database. */
const tableInMemory = (setting: GroupLink, startedAt: number) => {
  const due = new Set<number>();
  let upTo = Math.floor(startedAt / MILLIS_PER_MINUTE) * MILLIS_PER_MINUTE;
  let alarmChange: number | null = null;
  let delivered = 0;
  const table: GroupLinkTable = {
    setting: () => setting,
    save: () => {},
    onChange: () => () => {},
    owe: () => [],
    minute: (which, before) => {
      for (; upTo + MILLIS_PER_MINUTE <= before; upTo += MILLIS_PER_MINUTE) due.add(upTo);
      const at = which === 'oldest' ? Math.min(...due) : Math.max(...due);
      return due.size === 0 ? null : { at, offset: at };
    },
    settle: ({ at }) => {
      if (due.delete(at)) delivered += 1;
    },
    waitingMinutes: () => due.size,
    alarmChange: () => alarmChange,
    setAlarmChange: (number) => {
      alarmChange = number;
    },
    dayDue: () => null,
    countDaysFrom: () => {},
    settleDay: () => {},
    isReported: () => true,
    setReported: () => {},
    follow: () => {},
    unfollow: () => {},
    followed: () => [],
  };
  return { table, delivered: () => delivered };
};

export interface SimulatedLab {
  readonly raise: (subject: string) => void;
  readonly isConnected: () => boolean;
  readonly deliveredMinutes: () => number;
  readonly waitingMinutes: () => number;
  readonly stop: () => Promise<void>;
}

export const startSimulatedLab = (
  site: string,
  url: string,
  detail: GroupLink['detail'],
  now: () => EpochMillis,
): SimulatedLab => {
  const lab = labOf(site);
  const { table, delivered } = tableInMemory({ ...NO_GROUP_LINK, isOn: true, url, detail }, now());
  const listeners = new Set<(change: LabChange) => void>();
  const changes: AlarmChange[] = [];
  let open: Alarm | null = null;
  const statuses = (): readonly StationStatus[] =>
    stations.map((station) => ({
      station,
      condition: 'in-window',
      celsius: celsiusAt(now()),
      at: now(),
      celsiusPerHour: 0,
      minutesToCeiling: null,
      doseShare: 0.2,
      doseEquivalentHours: 4,
      swingCelsius: null,
    }));
  const raw = async ({ probe, from, to }: { probe: string; from: number; to: number }) => {
    const readings: Reading[] = [];
    for (let at = from; at < to; at += STEP_MILLIS)
      readings.push({ probe, at: epochMillis(at), celsius: celsiusAt(at), quality: 'good' });
    return readings;
  };
  const reporting = startGroupReporting(
    {
      now,
      repository: { lab: () => lab, allCharges: () => [], allPatterns: () => [] },
      store: { raw, keepFrom: () => Number.MAX_SAFE_INTEGER },
      archive: {
        changeAfter: (number) => {
          const change = changes[number];
          return change === undefined ? null : { ...change, number: number + 1 };
        },
        newestChange: () => changes.length,
      },
      offset: () => now(),
      statuses,
      patternOutlook: () => undefined,
      openAlarms: () => (open === null ? [] : [open]),
      dayFigures: async () => {
        throw new Error('no day is due');
      },
    },
    table,
    NO_OFFERS,
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  );
  return {
    /** In the place of the one before. */
    raise: (subject) => {
      const identity = { rule: 'over-ceiling', subject, subjectKind: 'station', priority: 'high' } as const;
      const step = alarmStep(normalAlarm({ ...identity, latches: false }, now()), {
        type: 'begins',
        at: now(),
        tense: 'now',
        evidence: { peak_celsius: 131.5 },
      });
      open = step.alarm;
      changes.push(...step.changes);
      for (const change of step.changes)
        for (const listener of listeners) listener({ kind: 'alarm', change });
    },
    isConnected: () => reporting.status().state === 'connected',
    deliveredMinutes: delivered,
    waitingMinutes: () => reporting.status().waitingMinutes,
    stop: reporting.stop,
  };
};
