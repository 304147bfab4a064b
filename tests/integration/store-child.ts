// A process to be killed at one piece of work on the readings of a data folder: it prints when it begins and when it is done.

import { join } from 'node:path';
import { openSqliteStore } from '../../collector/store/sqlite-store.ts';
import { copyData, DATABASE_NAME } from '../../cli/data/data-copy.ts';
import { openDatabase } from '../../lab/database/database.ts';
import { epochMillis } from '../../wax/units.ts';

const [folder = '', work = '', argument = ''] = process.argv.slice(2);
if (work === 'backup') {
  console.log('begins');
  copyData(folder, argument);
} else {
  const store = openSqliteStore(openDatabase(join(folder, DATABASE_NAME)));
  console.log('begins');
  await store.tidy(epochMillis(Number(argument)), (probe) => (probe.startsWith('pot') ? 'melt-pot' : null));
}
console.log('done');
