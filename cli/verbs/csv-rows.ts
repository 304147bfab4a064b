// The rows of another logger's CSV as readings, and how its columns are named on the command line.

import { createReadStream } from 'node:fs';
import { parse } from 'csv-parse';
import { type CsvColumns, csvDelimiter, csvReading, type CsvReading, type CsvRow } from './csv-reading.ts';
import { VerbRefusal } from './verb.ts';

/** Options by which columns are named. */
export const CSV_OPTIONS = ['time', 'value', 'probe', 'probe-column', 'unit', 'zone', 'time-format'] as const;
export const CSV_SHAPE =
  '--time COLUMN --value COLUMN --probe ID|--probe-column COLUMN [--unit celsius|fahrenheit|kelvin] [--zone ZONE] [--time-format iso|epoch-seconds|epoch-milliseconds|day-first|month-first]';

export interface CsvLine {
  readonly line: number;
  readonly read: CsvReading;
}

export async function* csvLines(file: string, columns: CsvColumns): AsyncGenerator<CsvLine> {
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
  }>)
    yield { line: info.lines, read: csvReading(record, columns) };
}

/** @param verb that needs them, for the refusal */
export function csvColumns(verb: string, value: (name: string) => string | null): CsvColumns {
  const needed = (name: string): string => {
    const text = value(name);
    if (text === null) throw new VerbRefusal(`${verb} needs --${name}`);
    return text;
  };
  const choice = <T extends string>(name: string, all: readonly T[], usual: T): T => {
    const text = value(name) ?? usual;
    const found = all.find((known) => known === text);
    if (found === undefined) throw new VerbRefusal(`--${name}: ${text} is none of ${all.join(', ')}`);
    return found;
  };
  const [probe, probeColumn] = [value('probe'), value('probe-column')];
  if ((probe === null) === (probeColumn === null))
    throw new VerbRefusal(`${verb} needs either --probe or --probe-column`);
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
