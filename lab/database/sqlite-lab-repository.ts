// The lab in the database: each record is one JSON document under its id, with the columns that lists sort by.
// `lab()` is built once and kept until something changes, so that rules can read it at every entry.

import type { CastingMaterial } from '../casting-material.ts';
import type { Charge } from '../charge.ts';
import { type Connection, hasTable, type LabDatabase } from './database.ts';
import type { Lab, Probe, Site, WorkingHours } from '../lab.ts';
import type { LabRepository } from './lab-repository.ts';
import type { Pattern } from '../pattern.ts';
import type { Person } from '../person.ts';
import { openHistories, openRecords } from './record-tables.ts';
import type { Station } from '../station.ts';
import type { WaxLot } from '../wax-lot.ts';
import type { NotificationPlan } from '../notification-plan.ts';
import { type LabOverTime, pastLab, unchanging } from './past-lab.ts';
import { openSettingsHistory, openSettingsRecorder, type RuleFiguresOf } from './settings-history.ts';
import type { EpochMillis } from '../../wax/units.ts';

const table = (name: string): string =>
  `CREATE TABLE ${name} (id TEXT PRIMARY KEY, position INTEGER NOT NULL, body TEXT NOT NULL) WITHOUT ROWID;`;
const history = (name: string): string =>
  `CREATE TABLE ${name} (id TEXT PRIMARY KEY, station TEXT, began_at TEXT NOT NULL, ended_at TEXT, body TEXT NOT NULL) WITHOUT ROWID;
   CREATE INDEX ${name}_began ON ${name} (began_at);
   CREATE INDEX ${name}_open ON ${name} (began_at) WHERE ended_at IS NULL;`;
const STEPS = [
  [
    ...['lab_site', 'lab_station', 'lab_probe', 'lab_person', 'lab_wax_override'].map(table),
    ...['lab_charge', 'lab_pattern'].map(history),
  ].join('\n'),
  table('lab_telling'),
  'ALTER TABLE lab_telling RENAME TO lab_notification_plan',
  table('lab_wax_lot'),
  table('lab_casting_material'),
];

const EVERY = Number.MAX_SAFE_INTEGER;

const CLOSED: WorkingHours = { mon: [], tue: [], wed: [], thu: [], fri: [], sat: [], sun: [] };
/** What is used until the first start names the site. */
const UNNAMED_SITE: Site = { id: 'lab', name: 'Lab', timeZone: 'UTC', workingHours: CLOSED, holidays: [] };

function openTables(database: Pick<LabDatabase, 'writer'>) {
  return {
    sites: openRecords<Site>(database, 'lab_site'),
    stations: openRecords<Station>(database, 'lab_station'),
    probes: openRecords<Probe>(database, 'lab_probe'),
    people: openRecords<Person>(database, 'lab_person'),
    overrides: openRecords<readonly [wax: string, values: Readonly<Record<string, number>>]>(
      database,
      'lab_wax_override',
    ),
    plans: openRecords<NotificationPlan>(database, 'lab_notification_plan'),
    lots: openRecords<WaxLot>(database, 'lab_wax_lot'),
    materials: openRecords<CastingMaterial>(database, 'lab_casting_material'),
    charges: openHistories<Charge>(database, 'lab_charge'),
    patterns: openHistories<Pattern>(database, 'lab_pattern'),
  };
}

function labIn(tables: ReturnType<typeof openTables>): Lab {
  const notificationPlan = tables.plans.all()[0];
  const lots = tables.lots.all();
  const castingMaterials = tables.materials.all();
  return {
    ...(notificationPlan !== undefined && { notificationPlan }),
    site: tables.sites.all()[0] ?? UNNAMED_SITE,
    stations: tables.stations.all(),
    probes: tables.probes.all(),
    ...(lots.length > 0 && { lots }),
    ...(castingMaterials.length > 0 && { castingMaterials }),
    charges: tables.charges.open(),
    patterns: tables.patterns.open(),
    people: tables.people.all(),
    waxOverrides: Object.fromEntries(tables.overrides.all()),
  };
}

/** The lab as it stands, through any connection, also beside a program that writes. */
export const readLab = (connection: Connection): Lab => labIn(openTables({ writer: connection }));

/**
 * The lab as it was, through any connection; null where there is none. A database of before settings were recorded has
 * today's lab for ever.
 */
export function readPastLab(connection: Connection): LabOverTime | null {
  if (!hasTable(connection, 'lab_site')) return null;
  const database = { writer: connection };
  const { charges, patterns } = openTables(database);
  const lab = readLab(connection);
  if (!hasTable(connection, 'lab_setting')) return unchanging(lab);
  return pastLab({
    history: openSettingsHistory(database, () => lab),
    charges: charges.newest(null, EVERY),
    patterns: patterns.newest(null, EVERY),
  });
}

function saveWaxOverride(
  { overrides }: ReturnType<typeof openTables>,
  wax: string,
  values: Readonly<Record<string, number>>,
): void {
  if (Object.keys(values).length === 0) overrides.remove(wax);
  else overrides.save(wax, [wax, values]);
}

/** @param ruleFiguresOf by which figures the rules judge a station, for the record of what held when */
export function openLabRepository(
  database: LabDatabase,
  now: () => EpochMillis,
  ruleFiguresOf: RuleFiguresOf = () => ({}),
): LabRepository {
  database.migrate('lab', STEPS);
  const tables = openTables(database);
  const recorder = openSettingsRecorder(database, now, ruleFiguresOf);
  const { sites, stations, probes, people, overrides, plans, lots, materials, charges, patterns } = tables;
  const listeners = new Set<() => void>();
  let current: Lab | null = null;

  /** In one transaction; listeners are called once the outermost one has ended. */
  const change = (work: () => void, record: () => void = () => {}): void => {
    database.transaction(() => {
      work();
      record();
    });
    current = null;
    database.afterTransaction(() => {
      // What was read meanwhile may have been undone.
      current = null;
      for (const listener of listeners) listener();
    });
  };
  const saveSite = (site: Site): void => {
    sites.clear();
    sites.save(site.id, site);
  };

  const lab = (): Lab => {
    current ??= labIn(tables);
    return current;
  };
  const isEmpty = (): boolean => sites.all().length === 0 && stations.all().length === 0;
  const recordWhole = (): void => recorder.whole(labIn(tables));
  // What an earlier version saved, or a newer program judges by other figures.
  if (!isEmpty()) database.transaction(recordWhole);

  return {
    lab,
    history: openSettingsHistory(database, lab),
    isEmpty,
    replace: (described) =>
      change(() => {
        for (const kind of [stations, probes, overrides]) kind.clear();
        saveSite(described.site);
        for (const station of described.stations) stations.save(station.id, station);
        for (const probe of described.probes) probes.save(probe.id, probe);
        for (const [wax, values] of Object.entries(described.waxOverrides))
          saveWaxOverride(tables, wax, values);
        for (const person of described.people) people.save(person.id, person);
        if (described.notificationPlan !== undefined) plans.save('plan', described.notificationPlan);
      }, recordWhole),
    saveSite: (site) => change(() => saveSite(site), recordWhole),
    saveStation: (station) =>
      change(
        () => stations.save(station.id, station),
        () => recorder.station(station.id, labIn(tables)),
      ),
    removeStation: (id) =>
      change(() => {
        stations.remove(id);
        for (const probe of probes.all())
          if (probe.station === id) probes.save(probe.id, { ...probe, station: null });
      }, recordWhole),
    saveProbe: (probe) =>
      change(
        () => probes.save(probe.id, probe),
        () => recorder.probe(probe),
      ),
    removeProbe: (id) => change(() => probes.remove(id), recordWhole),
    saveCharge: (charge) =>
      change(
        () => charges.save(charge.id, charge.station, charge.startedAt, charge.endedAt, charge),
        () => recorder.station(charge.station, labIn(tables)),
      ),
    saveLot: (lot) => change(() => lots.save(lot.id, lot), recordWhole),
    removeLot: (id) => change(() => lots.remove(id), recordWhole),
    saveCastingMaterial: (material) => change(() => materials.save(material.id, material)),
    removeCastingMaterial: (id) => change(() => materials.remove(id)),
    savePattern: (pattern) =>
      change(() => {
        const station = pattern.stays.at(-1)?.station ?? null;
        patterns.save(pattern.id, station, pattern.madeAt, pattern.fate?.at ?? null, pattern);
      }),
    savePerson: (person) => change(() => people.save(person.id, person)),
    removePerson: (id) => change(() => people.remove(id)),
    saveNotificationPlan: (plan) => change(() => plans.save('plan', plan)),
    saveWaxOverride: (wax, values) => change(() => saveWaxOverride(tables, wax, values), recordWhole),
    allCharges: (station) => charges.newest(station ?? null, EVERY),
    allPatterns: (limit = EVERY) => patterns.newest(null, limit),
    findCharge: charges.find,
    findPattern: patterns.find,
    onChange: (listener) => {
      listeners.add(listener);
      return () => {
        listeners.delete(listener);
      };
    },
  };
}
