// `backup FILE`: a copy of the data folder in one file, while the program runs.

import { statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { openCopyRecord } from '../../lab/database/copy-record.ts';
import { openDatabase } from '../../lab/database/database.ts';
import { mayReplace } from '../../lab/database/database-copy.ts';
import { epochMillis } from '../../wax/units.ts';
import { copyData, DATABASE_NAME } from '../data/data-copy.ts';
import { type Verb, VerbRefusal, verbArguments } from './verb.ts';

export const backup: Verb = {
  shape: 'FILE [--data DIR]',
  help: 'copies lab, alarms and readings into one file while the program runs',
  run: (args, usualData) => {
    const { positionals, data } = verbArguments(args, usualData);
    const [target] = positionals;
    if (target === undefined || positionals.length > 1) throw new VerbRefusal('backup needs one FILE');
    if (!mayReplace(target, join(data, DATABASE_NAME)))
      throw new VerbRefusal(`${target} is there and is no copy: name another file`);
    copyData(data, target);
    const { size } = statSync(target);
    const database = openDatabase(join(data, DATABASE_NAME));
    try {
      const at = epochMillis(Date.now());
      openCopyRecord(database).add({ at, file: resolve(target), bytes: size, fault: null });
    } finally {
      database.close();
    }
    console.log(`${target}: ${(size / 1e6).toFixed(1)} MB, checked`);
    return 0;
  },
};
