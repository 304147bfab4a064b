// `restore FILE`: an empty data folder becomes what it was when the copy was made. A damaged copy is refused before
// anything is written.

import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { lockFolder } from '../../lab/database/folder-lock.ts';
import { restoreData } from '../data/data-copy.ts';
import { type Verb, VerbRefusal, verbArguments } from './verb.ts';
import { databaseFaultLines } from './verify.ts';

export const restore: Verb = {
  shape: 'FILE [--data DIR]',
  help: 'makes an empty data folder from such a file, after a check; the program must not run on it',
  run: (args, usualData) => {
    const { positionals, data } = verbArguments(args, usualData);
    const [copy] = positionals;
    if (copy === undefined || positionals.length > 1) throw new VerbRefusal('restore needs one FILE');
    const journal = join(data, 'journal');
    if (existsSync(journal) && readdirSync(journal).length > 0)
      throw new VerbRefusal(`${journal} holds a journal of other data: move the data folder aside`);
    const { lines, readings } = databaseFaultLines(copy);
    if (lines.length > 0) {
      for (const line of lines) console.log(line);
      console.log(`${copy} is damaged; nothing was restored`);
      return 1;
    }
    const unlock = lockFolder(data);
    try {
      restoreData(copy, data);
    } finally {
      unlock();
    }
    console.log(`${data}: restored with ${readings} readings`);
    return 0;
  },
};
