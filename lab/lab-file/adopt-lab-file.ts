// What a lab file does at a start. An empty database takes it. After that the database is the truth, because
// people change it on the screens: a file that did not change does nothing; one that did is taken as long as
// nobody changed the lab on the screens since, else the database stays and the differences are reported. Watching
// starts in every case; `replace` takes the file whatever the screens did.

import { isDeepStrictEqual } from 'node:util';
import type { LabDatabase } from '../database/database.ts';
import type { Lab } from '../lab.ts';
import type { LabRepository } from '../database/lab-repository.ts';

export type Adoption =
  | { readonly kind: 'loaded' | 'updated' | 'unchanged' }
  /** Keys of the file that differ, as `stations.dip-pot`; the database was left as it is. */
  | { readonly kind: 'kept'; readonly differences: readonly string[] };

const STEPS = ['CREATE TABLE lab_file (id INTEGER PRIMARY KEY CHECK (id = 1), taken TEXT NOT NULL)'];

/** The part of a lab that a file describes. */
type Described = Pick<Lab, 'site' | 'stations' | 'probes' | 'people' | 'notificationPlan' | 'waxOverrides'>;

/** Through JSON, so that what was stored compares with what was read. */
const descriptionOf = ({ site, stations, probes, people, notificationPlan, waxOverrides }: Lab): Described =>
  JSON.parse(JSON.stringify({ site, stations, probes, people, notificationPlan, waxOverrides }));

export function adoptLabFile(
  database: LabDatabase,
  repository: LabRepository,
  file: Lab,
  options: { readonly replace: boolean },
): Adoption {
  database.migrate('lab/lab-file', STEPS);
  const { writer } = database;
  const stored = writer.prepare<[], string>('SELECT taken FROM lab_file').pluck().get();
  const taken: Described | null = stored === undefined ? null : JSON.parse(stored);
  const described = descriptionOf(file);
  const now = comparable(descriptionOf(repository.lab()), [described, ...(taken === null ? [] : [taken])]);
  const remember = (): void => {
    writer.prepare('INSERT OR REPLACE INTO lab_file VALUES (1, ?)').run(JSON.stringify(described));
  };
  const take = (kind: 'loaded' | 'updated'): Adoption => {
    database.transaction(() => {
      repository.replace(file);
      remember();
    });
    return { kind };
  };
  if (repository.isEmpty()) return take('loaded');
  const differences = differencesBetween(now, described);
  if (differences.length === 0) {
    remember();
    return { kind: 'unchanged' };
  }
  if (options.replace) return take('updated');
  if (taken !== null && differencesBetween(taken, described).length === 0) return { kind: 'unchanged' };
  if (taken !== null && differencesBetween(taken, now).length === 0) return take('updated');
  return { kind: 'kept', differences };
}

/**
 * Without what taking a file would not harm: people and a notification plan that no file named stay, and probes that
 * nobody claimed come back when they are next seen.
 */
function comparable(now: Described, files: readonly Described[]): Described {
  const idsIn = (list: 'people' | 'probes') =>
    new Set(files.flatMap((file) => file[list].map(({ id }) => id)));
  const [people, probes] = [idsIn('people'), idsIn('probes')];
  const { notificationPlan, ...rest } = now;
  const planIsNamed = files.some((file) => file.notificationPlan !== undefined);
  return {
    ...rest,
    ...(planIsNamed && notificationPlan !== undefined && { notificationPlan }),
    people: now.people.filter(({ id }) => people.has(id)),
    probes: now.probes.filter(({ id, station }) => station !== null || probes.has(id)),
  };
}

/** By record: `site`, `stations.dip-pot`, `wax_overrides.sticky`. */
function differencesBetween(before: Described, after: Described): readonly string[] {
  const lists = (['stations', 'probes', 'people'] as const).flatMap((list) => {
    const of = ({ [list]: things }: Described) => new Map(things.map((thing) => [thing.id, thing]));
    return findChanged(list, of(before), of(after));
  });
  const overrides = ({ waxOverrides }: Described) => new Map(Object.entries(waxOverrides));
  return [
    ...(isDeepStrictEqual(before.site, after.site) ? [] : ['site']),
    ...lists,
    ...(isDeepStrictEqual(before.notificationPlan, after.notificationPlan) ? [] : ['notification_plan']),
    ...findChanged('wax_overrides', overrides(before), overrides(after)),
  ];
}

const findChanged = (
  list: string,
  before: ReadonlyMap<string, unknown>,
  after: ReadonlyMap<string, unknown>,
): readonly string[] =>
  [...new Set([...before.keys(), ...after.keys()])]
    .filter((id) => !isDeepStrictEqual(before.get(id), after.get(id)))
    .map((id) => `${list}.${id}`);
