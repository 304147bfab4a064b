// `set-aside`: damaged readings are taken out of the way and kept, so that sealing, deletion and charts go on.

import { join } from 'node:path';
import { setAsideDamaged } from '../../collector/store/set-aside-damaged.ts';
import { readDatabase } from '../../lab/database/database.ts';
import { lockFolder } from '../../lab/database/folder-lock.ts';
import { DATABASE_NAME } from '../data/data-copy.ts';
import { openFolderDatabase } from '../data/open-database.ts';
import { type Verb, VerbRefusal, verbArguments } from './verb.ts';
import { databaseFaultLines } from './verify.ts';

export const setAside: Verb = {
  shape: '[--data DIR]',
  help: 'keeps damaged readings apart, so that sealing goes on, while the program is stopped',
  run: (args, usualData) => {
    const { positionals, data } = verbArguments(args, usualData);
    if (positionals.length > 0) throw new VerbRefusal('set-aside takes no FILE: it works on the data folder');
    const file = join(data, DATABASE_NAME);
    // Before the lock, which would make the folder.
    readDatabase(file).close();
    const unlock = lockFolder(data);
    try {
      for (const line of databaseFaultLines(file).lines) console.log(line);
      const database = openFolderDatabase(data);
      try {
        const { figures, packs } = setAsideDamaged(database);
        console.log(`set aside and kept: ${packs} packs of readings, ${figures} spans of figures`);
      } finally {
        database.close();
      }
      return databaseFaultLines(file).lines.length === 0 ? 0 : 1;
    } finally {
      unlock();
    }
  },
};
