// By which settings readings were judged, and since when: each version of a site, a station, a probe and of the lab's
// own wax values, with the limits that followed from them. Rows are only ever added, in the transaction of the change,
// so that an old night is judged by what held then, whatever the lab or a newer program holds today.

import { type EpochMillis, epochMillis } from '../../wax/units.ts';
import type { WaxClassId } from '../../wax/classes/wax-class-id.ts';
import type { LabDatabase } from './database.ts';
import type { Lab, Probe, Site } from '../lab.ts';
import { type StationLimits, stationLimits, waxClassAt } from '../limits.ts';
import { heldIn, indexOf, type ProbeIndex, type Version } from './setting-versions.ts';
import type { Station } from '../station.ts';

/** Figures of the rules at one station, by rule and name. */
export type RuleFigures = Readonly<Record<string, Readonly<Record<string, number>>>>;
export type RuleFiguresOf = (station: Station, lab: Lab) => RuleFigures;

/** A station with everything that its readings were judged by. */
export interface StationSettings {
  readonly station: Station;
  readonly wax: WaxClassId | null;
  readonly limits: StationLimits;
  /** Where the wax begins to melt, °C; null where no wax is named. */
  readonly meltsFrom: number | null;
  readonly ruleFigures: RuleFigures;
}

export interface StationPeriod {
  readonly from: EpochMillis;
  readonly to: EpochMillis;
  readonly settings: StationSettings;
  /** False before the record began: the oldest settings on record stand in. */
  readonly isRecorded: boolean;
}

export interface ProbePeriod {
  readonly from: EpochMillis;
  readonly to: EpochMillis;
  readonly probe: Probe;
}

/** From then on; null: it was forgotten. */
export interface ProbeVersion {
  readonly from: EpochMillis;
  readonly probe: Probe | null;
}

export interface SettingsHistory {
  /** When the record began; null while the lab is empty. */
  readonly since: () => EpochMillis | null;
  /** When anything of it changed, oldest first. */
  readonly changedAt: () => readonly EpochMillis[];
  /** The described lab as it was then; charges, patterns and people are today's. */
  readonly labAt: (at: EpochMillis) => Lab;
  /** The site as it was then: its name, zone, hours and care of patterns. */
  readonly siteAt: (at: EpochMillis) => Site;
  /** Every station that was there at any time in [from, to), as it was last in it. */
  readonly stationsIn: (from: EpochMillis, to: EpochMillis) => readonly Station[];
  /** In [from, to), oldest first; none while the station was not there. */
  readonly stationPeriods: (station: string, from: EpochMillis, to: EpochMillis) => readonly StationPeriod[];
  /**
   * Every version of every probe that held in [from, to), with its part of the span. What a probe measured before its
   * first version counts to the station of that one, unless the station had another probe before: one that takes the
   * place of a broken one lay elsewhere until then. With a `station` only of probes that were ever there.
   */
  readonly probePeriods: (from: EpochMillis, to: EpochMillis, station?: string) => readonly ProbePeriod[];
  /** All versions of one probe, oldest first, with when each began. */
  readonly probeVersions: (probe: string) => readonly ProbeVersion[];
}

const STEPS = [
  `CREATE TABLE lab_setting (
     number INTEGER PRIMARY KEY AUTOINCREMENT, kind TEXT NOT NULL, id TEXT NOT NULL, valid_from INTEGER NOT NULL,
     body TEXT NOT NULL);
   CREATE INDEX lab_setting_of ON lab_setting (kind, id, number);
   CREATE TRIGGER lab_setting_stays BEFORE UPDATE ON lab_setting
     BEGIN SELECT raise(ABORT, 'a setting that held is never changed'); END;
   CREATE TRIGGER lab_setting_is_kept BEFORE DELETE ON lab_setting
     BEGIN SELECT raise(ABORT, 'a setting that held is never deleted'); END;`,
];

interface SettingBodies {
  readonly site: Site;
  readonly waxes: Lab['waxOverrides'];
  readonly station: StationSettings;
  readonly probe: Probe;
}
type Kind = keyof SettingBodies;
interface Row {
  readonly id: string;
  readonly valid_from: EpochMillis;
  readonly body: string;
}
const settingsOf = (station: Station, lab: Lab, ruleFiguresOf: RuleFiguresOf): StationSettings => {
  const wax = waxClassAt(station, lab);
  return {
    station,
    wax: wax?.id ?? null,
    limits: stationLimits(station, lab),
    meltsFrom: wax?.melting.low.value ?? null,
    ruleFigures: ruleFiguresOf(station, lab),
  };
};

/** Writes what has changed since it was last written; to be called in the transaction of the change. */
export interface SettingsRecorder {
  readonly probe: (probe: Probe) => void;
  /** One station, when only its charge or its own record changed. */
  readonly station: (id: string, lab: Lab) => void;
  readonly whole: (lab: Lab) => void;
}

export function openSettingsRecorder(
  database: LabDatabase,
  now: () => EpochMillis,
  ruleFiguresOf: RuleFiguresOf,
): SettingsRecorder {
  database.migrate('lab settings', STEPS);
  const { writer } = database;
  const newest = writer.prepare<[Kind, string], Row>(
    'SELECT id, valid_from, body FROM lab_setting WHERE kind = ? AND id = ? ORDER BY number DESC LIMIT 1',
  );
  const latest = writer.prepare<[], EpochMillis | null>('SELECT max(valid_from) FROM lab_setting').pluck();
  const add = writer.prepare('INSERT INTO lab_setting (kind, id, valid_from, body) VALUES (?, ?, ?, ?)');
  const ids = writer.prepare<[Kind], string>('SELECT DISTINCT id FROM lab_setting WHERE kind = ?').pluck();
  const save = <K extends Kind>(kind: K, id: string, body: SettingBodies[K] | null, at = now()): void => {
    const before = newest.get(kind, id);
    const text = JSON.stringify(body);
    if (before === undefined ? body === null : before.body === text) return;
    // A clock that was set back must not put a version before the one that it follows.
    add.run(kind, id, Math.max(at, latest.get() ?? 0), text);
  };
  const station = (id: string, lab: Lab, at = now()): void => {
    const there = lab.stations.find((described) => described.id === id);
    save('station', id, there === undefined ? null : settingsOf(there, lab, ruleFiguresOf), at);
  };
  return {
    probe: (saved) => save('probe', saved.id, saved),
    station: (id, lab) => station(id, lab),
    whole: (lab) => {
      // One instant for all of it: what is described together begins together.
      const at = now();
      save('site', '', lab.site, at);
      save('waxes', '', lab.waxOverrides, at);
      const probes = new Set(lab.probes.map(({ id }) => id));
      for (const id of new Set([...ids.all('station'), ...lab.stations.map((described) => described.id)]))
        station(id, lab, at);
      for (const id of ids.all('probe')) if (!probes.has(id)) save('probe', id, null, at);
      for (const described of lab.probes) save('probe', described.id, described, at);
    },
  };
}

export function openSettingsHistory(
  { writer }: Pick<LabDatabase, 'writer'>,
  labNow: () => Lab,
): SettingsHistory {
  const all = writer.prepare<[Kind], Row>(
    'SELECT id, valid_from, body FROM lab_setting WHERE kind = ? ORDER BY number',
  );
  const ofOne = writer.prepare<[Kind, string], Row>(
    'SELECT id, valid_from, body FROM lab_setting WHERE kind = ? AND id = ? ORDER BY number',
  );
  const changes = writer
    .prepare<[], EpochMillis>('SELECT DISTINCT valid_from FROM lab_setting ORDER BY valid_from')
    .pluck();
  const first = writer.prepare<[], EpochMillis | null>('SELECT min(valid_from) FROM lab_setting').pluck();
  const since = (): EpochMillis | null => first.get() ?? null;
  // What is read back was written above, from the type of its kind.
  const versionsOf = <K extends Kind>(kind: K, id: string): readonly Version<SettingBodies[K]>[] =>
    ofOne.all(kind, id).map(({ valid_from, body }) => ({ from: valid_from, body: JSON.parse(body) }));
  const everyOf = <K extends Kind>(kind: K): readonly (readonly Version<SettingBodies[K]>[])[] => {
    const byId = new Map<string, Version<SettingBodies[K]>[]>();
    for (const { id, valid_from, body } of all.all(kind)) {
      const version = { from: valid_from, body: JSON.parse(body) };
      const versions = byId.get(id);
      if (versions === undefined) byId.set(id, [version]);
      else versions.push(version);
    }
    return [...byId.values()];
  };
  const newest = writer.prepare<[], number | null>('SELECT max(number) FROM lab_setting').pluck();
  let indexed: { readonly upTo: number | null; readonly index: ProbeIndex } | null = null;
  /** Asked for every station on every screen, so it is read anew only when something was added or undone. */
  const probeIndex = (): ProbeIndex => {
    const upTo = newest.get() ?? null;
    if (indexed === null || indexed.upTo !== upTo || writer.inTransaction)
      indexed = { upTo: writer.inTransaction ? null : upTo, index: indexOf(everyOf('probe')) };
    return indexed.index;
  };
  const heldAt = <T>(versions: readonly Version<T>[], at: EpochMillis): T | null =>
    heldIn(versions, at, epochMillis(at + 1)).at(-1)?.body ?? null;
  const allAt = <K extends Kind>(kind: K, at: EpochMillis): readonly SettingBodies[K][] =>
    everyOf(kind).flatMap((versions) => {
      const held = heldAt(versions, at);
      return held === null ? [] : [held];
    });
  const siteAt = (at: EpochMillis): Site => heldAt(versionsOf('site', ''), at) ?? labNow().site;
  return {
    since,
    changedAt: () => changes.all(),
    siteAt,
    labAt: (at) => ({
      ...labNow(),
      site: siteAt(at),
      waxOverrides: heldAt(versionsOf('waxes', ''), at) ?? {},
      stations: allAt('station', at).map(({ station }) => station),
      probes: allAt('probe', at),
    }),
    stationsIn: (from, to) =>
      everyOf('station').flatMap((versions) => {
        const last = heldIn(versions, from, to).at(-1);
        return last === undefined ? [] : [last.body.station];
      }),
    stationPeriods: (station, from, to) => {
      const versions = versionsOf('station', station);
      const began = versions[0]?.from ?? to;
      return heldIn(versions, from, to).flatMap(({ from: start, to: end, body: settings }) =>
        start < began && began < end
          ? [
              { from: start, to: began, settings, isRecorded: false },
              { from: began, to: end, settings, isRecorded: true },
            ]
          : [{ from: start, to: end, settings, isRecorded: start >= began }],
      );
    },
    probePeriods: (from, to, station) => {
      const { all: every, beganAt, atStation } = probeIndex();
      const probes = station === undefined ? every : (atStation.get(station) ?? []);
      return probes.flatMap((versions) => {
        const [first] = versions;
        const place = first?.body?.station ?? null;
        const isFollower =
          first !== undefined && place !== null && first.from > (beganAt.get(place) ?? first.from);
        const start = isFollower ? epochMillis(Math.max(from, first.from)) : from;
        return heldIn(versions, start, to).map(({ body, ...span }) => ({ ...span, probe: body }));
      });
    },
    probeVersions: (probe) => versionsOf('probe', probe).map(({ from, body }) => ({ from, probe: body })),
  };
}
