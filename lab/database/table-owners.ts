// Who has tables in the databases of the data folder, now or in an earlier version. An owner that is not listed is one of a
// newer version: what it keeps would fall behind what this version writes.

import { DatabaseRefusal, type LabDatabase } from './database.ts';

/** An owner that gives its tables up stays listed. */
export const TABLE_OWNERS: readonly string[] = [
  'alarm archive',
  'audit',
  'collector/influx',
  'collector/progress',
  'collector/retention',
  'collector/series',
  'escalation',
  'excursion causes',
  'gateway-accounts',
  'kept-answers',
  'lab',
  'lab settings',
  'lab/connection-settings',
  'lab/copies',
  'lab/group-link',
  'lab/group-offers',
  'lab/lab-file',
  'lab/payload-mapping',
  'night post',
  'night sheet',
  'outbox',
  'push subscriptions',
  'quarantine',
  'recorded entries',
  'sessions',
  'sign-in',
  'training',
  'used links',
];

/** @throws DatabaseRefusal `database-newer` */
export function refuseUnknownOwners({ file, writer }: LabDatabase): void {
  const owners = writer
    .prepare<[], string>('SELECT DISTINCT owner FROM migration ORDER BY owner')
    .pluck()
    .all();
  const owner = owners.find((name) => !TABLE_OWNERS.includes(name));
  if (owner !== undefined) throw new DatabaseRefusal('database-newer', { file, owner });
}
