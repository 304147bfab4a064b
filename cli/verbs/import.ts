// `import FILE.csv`: readings of another logger into the store of a program that is stopped. They are history: they
// count in charts, reports and doses that are asked for later, and raise no alarm. What is there already stays as it is.

import { createReadStream } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse';
import { openSeriesReader } from '../../collector/store/series-reader.ts';
import { openSeriesWriter } from '../../collector/store/series-tables.ts';
import { openDatabase } from '../../lab/database.ts';
import { lockFolder } from '../../lab/folder-lock.ts';
import type { Reading } from '../../lab/reading.ts';
import { type CsvColumns, csvDelimiter, csvReading, type CsvRow } from './csv-reading.ts';
import { DATABASE_NAME } from './data-copy.ts';
import { type Verb, VerbRefusal, verbArguments } from './verb.ts';

const AT_ONCE = 5000;
const MOST_REFUSALS_SHOWN = 10;
const OPTIONS = ['time', 'value', 'probe', 'probe-column', 'unit', 'zone', 'time-format', 'store'] as const;

export const importReadings: Verb = {
  shape:
    'FILE.csv --time COLUMN --value COLUMN --probe ID|--probe-column COLUMN [--unit celsius|fahrenheit|kelvin] [--zone ZONE] [--time-format iso|epoch-seconds|epoch-milliseconds|day-first|month-first] [--data DIR]',
  help: 'takes readings of another logger into the embedded store while the program is stopped; again, it changes nothing',
  run: async (args, usualData) => {
    const { positionals, value, data } = verbArguments(args, usualData, OPTIONS);
    const [file] = positionals;
    if (file === undefined || positionals.length > 1) throw new VerbRefusal('import needs one FILE.csv');
    if ((value('store') ?? process.env.WAXWARDEN_STORE ?? 'embedded') !== 'embedded')
      throw new VerbRefusal(
        'import works with the embedded store; give an InfluxDB server its readings directly',
      );
    const columns = columnsOf(value);
    const unlock = lockFolder(data);
    const database = openDatabase(join(data, DATABASE_NAME));
    try {
      const writer = openSeriesWriter(database);
      const stored = openSeriesReader(database.reader());
      let [batch, rows, refused, added]: [Reading[], number, number, number] = [[], 0, 0, 0];
      const save = (): void => {
        const missing = batch.filter(({ probe, at }) => stored.celsiusAt(probe, at) === null);
        added += database.transaction(() => writer.add(missing));
        batch = [];
      };
      const lines = createReadStream(file).pipe(
        parse({
          columns: true,
          bom: true,
          trim: true,
          delimiter: await csvDelimiter(file),
          info: true,
          skip_empty_lines: true,
          relax_column_count: true,
        }),
      );
      for await (const { record, info } of lines as AsyncIterable<{
        record: CsvRow;
        info: { lines: number };
      }>) {
        rows += 1;
        const read = csvReading(record, columns);
        if (!read.ok) {
          refused += 1;
          if (refused <= MOST_REFUSALS_SHOWN) console.error(`${file}:${info.lines}: ${read.reason}`);
          continue;
        }
        batch.push(read.reading);
        if (batch.length >= AT_ONCE) save();
      }
      save();
      console.log(`${rows} rows: ${added} new, ${rows - refused - added} there already, ${refused} refused`);
      return refused === 0 ? 0 : 1;
    } finally {
      database.close();
      unlock();
    }
  },
};

function columnsOf(value: (name: string) => string | null): CsvColumns {
  const needed = (name: string): string => {
    const text = value(name);
    if (text === null) throw new VerbRefusal(`import needs --${name}`);
    return text;
  };
  const choice = <T extends string>(name: string, all: readonly T[], usual: T): T => {
    const text = value(name) ?? usual;
    const found = all.find((one) => one === text);
    if (found === undefined) throw new VerbRefusal(`--${name}: ${text} is none of ${all.join(', ')}`);
    return found;
  };
  const [probe, probeColumn] = [value('probe'), value('probe-column')];
  if ((probe === null) === (probeColumn === null))
    throw new VerbRefusal('import needs either --probe or --probe-column');
  if (probe !== null && !/^[A-Za-z0-9._-]{1,64}$/.test(probe))
    throw new VerbRefusal(`--probe: ${probe} is no id of a probe`);
  return {
    time: needed('time'),
    value: needed('value'),
    probe,
    probeColumn,
    unit: choice('unit', ['celsius', 'fahrenheit', 'kelvin'], 'celsius'),
    timeFormat: choice(
      'time-format',
      ['iso', 'epoch-seconds', 'epoch-milliseconds', 'day-first', 'month-first'],
      'iso',
    ),
    zone: value('zone') ?? 'UTC',
  };
}
