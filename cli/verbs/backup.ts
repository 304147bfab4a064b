// `backup FILE`: a copy of the data folder in one file, while the program runs.

import { statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { type DataCopy, openCopyRecord } from '../../lab/database/copy-record.ts';
import { openDatabase } from '../../lab/database/database.ts';
import { mayReplace } from '../../lab/database/database-copy.ts';
import { reasonOf } from '../../wax/problem-error.ts';
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
    console.log(`${target}: ${(size / 1e6).toFixed(1)} MB, checked`);
    try {
      list(join(data, DATABASE_NAME), { at: epochMillis(Date.now()), file: resolve(target), bytes: size });
    } catch (error) {
      // The copy is made, also of a folder that can only be read.
      console.error(`waxwarden: the lab does not list this copy: ${reasonOf(error)}`);
    }
    return 0;
  },
};

function list(file: string, copy: Omit<DataCopy, 'fault'>): void {
  const database = openDatabase(file);
  try {
    openCopyRecord(database).add({ ...copy, fault: null });
  } finally {
    database.close();
  }
}
