// `import FILE.csv`: readings of another logger into the store of a program that is stopped. They are history: they
// count in charts, reports and doses that are computed later, and raise no alarm. What is there already stays as it is.

import { openSeriesReader } from '../../collector/store/series-reader.ts';
import { openSeriesWriter } from '../../collector/store/series-tables.ts';
import { lockFolder } from '../../lab/database/folder-lock.ts';
import type { Reading } from '../../lab/reading.ts';
import { CSV_OPTIONS, CSV_SHAPE, csvColumns, csvLines, reportRefusedRows } from './csv-rows.ts';
import { openFolderDatabase } from '../data/open-database.ts';
import { type Verb, VerbRefusal, verbArguments } from './verb.ts';

const AT_ONCE = 5000;
const OPTIONS = [...CSV_OPTIONS, 'store'];

export const importReadings: Verb = {
  shape: `FILE.csv ${CSV_SHAPE} [--data DIR]`,
  help: 'takes readings of another logger into the embedded store while the program is stopped; again, it changes nothing',
  run: async (args, usualData) => {
    const { positionals, value, data } = verbArguments(args, usualData, OPTIONS);
    const [file] = positionals;
    if (file === undefined || positionals.length > 1) throw new VerbRefusal('import needs one FILE.csv');
    if ((value('store') ?? process.env.WAXWARDEN_STORE ?? 'embedded') !== 'embedded')
      throw new VerbRefusal(
        'import works with the embedded store; give an InfluxDB server its readings directly',
      );
    const columns = csvColumns('import', value);
    const unlock = lockFolder(data);
    const database = openFolderDatabase(data);
    try {
      const writer = openSeriesWriter(database);
      const stored = openSeriesReader(database.reader());
      let batch: Reading[] = [];
      let [rows, refused, added, differing] = [0, 0, 0, 0];
      const save = (): void => {
        const missing = new Map<string, Reading>();
        for (const reading of batch) {
          const { at, celsius, probe } = reading;
          const key = `${probe} ${at}`;
          const present = missing.get(key)?.celsius ?? stored.celsiusAt(probe, at);
          if (present === null) missing.set(key, reading);
          else if (present !== celsius) differing += 1;
        }
        added += database.transaction(() => writer.add([...missing.values()]));
        batch = [];
      };
      const nameRefused = reportRefusedRows(file);
      for await (const { line, read } of csvLines(file, columns)) {
        rows += 1;
        if (!read.ok) {
          refused += 1;
          nameRefused(line, read.reason);
          continue;
        }
        batch.push(read.reading);
        if (batch.length >= AT_ONCE) save();
      }
      save();
      console.log(`${rows} rows: ${added} new, ${rows - refused - added} there already, ${refused} refused`);
      if (differing > 0)
        console.log(
          `${differing} of those there already have another value in the file; what was there stays`,
        );
      return refused === 0 ? 0 : 1;
    } finally {
      database.close();
      unlock();
    }
  },
};
