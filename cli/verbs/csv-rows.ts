// The rows of another logger's CSV as readings, and how its columns are named on the command line.

import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { pipeline } from 'node:stream';
import { CsvError, parse } from 'csv-parse';
import {
  type CsvColumns,
  csvDelimiter,
  csvReading,
  type CsvReading,
  type CsvRow,
  PROBE_ID,
} from './csv-reading.ts';
import { resolveRepeatedHour } from './csv-repeated-hour.ts';
import { choiceOption, VerbRefusal } from './verb.ts';

/** Options by which columns are named. */
export const CSV_OPTIONS = ['time', 'value', 'probe', 'probe-column', 'unit', 'zone', 'time-format'] as const;
export const CSV_SHAPE =
  '--time COLUMN --value COLUMN --probe ID|--probe-column COLUMN [--unit celsius|fahrenheit|kelvin] [--zone ZONE] [--time-format iso|epoch-seconds|epoch-milliseconds|day-first|month-first]';

export interface CsvLine {
  readonly line: number;
  readonly read: CsvReading;
}

/** Refuses a missing file and one without the columns. */
export async function* csvLines(file: string, columns: CsvColumns): AsyncGenerator<CsvLine> {
  const isFile = await stat(file).then(
    (found) => found.isFile(),
    () => false,
  );
  if (!isFile) throw new VerbRefusal(`there is no file ${file}`);
  const rows = parse({
    columns: (names: string[]) => checkNames(file, names, columns),
    bom: true,
    trim: true,
    delimiter: await csvDelimiter(file),
    info: true,
    skip_empty_lines: true,
    relax_column_count: true,
  });
  // Errors on the way are thrown where the rows are read.
  pipeline(createReadStream(file), rows, () => {});
  const inOrder = resolveRepeatedHour();
  try {
    for await (const { record, info } of rows as AsyncIterable<{ record: CsvRow; info: { lines: number } }>)
      yield { line: info.lines, read: inOrder(csvReading(record, columns)) };
  } catch (error) {
    if (error instanceof CsvError) throw new VerbRefusal(`${file} is no CSV: ${printable(error.message)}`);
    throw error;
  }
}

function checkNames(
  file: string,
  names: string[],
  { time, value, probeColumn }: Pick<CsvColumns, 'time' | 'value' | 'probeColumn'>,
): string[] {
  const needed = [time, value, ...(probeColumn === null ? [] : [probeColumn])];
  const missing = needed.filter((name) => !names.includes(name));
  if (missing.length > 0)
    throw new VerbRefusal(
      `${file} has no column ${missing.join(', ')}; it has ${printable(names.join(', '))}`,
    );
  const twice = needed.find((name) => names.indexOf(name) !== names.lastIndexOf(name));
  if (twice !== undefined)
    throw new VerbRefusal(`${file} has several columns ${twice}; name each of them otherwise`);
  return names;
}

const LONGEST_PRINTED = 400;
/** What a file holds, for the console: signs that would steer a terminal are left out, and what is long is cut. */
const printable = (text: string): string => {
  const plain = text.replaceAll(/\p{Cc}+/gu, ' ');
  return plain.length > LONGEST_PRINTED ? `${plain.slice(0, LONGEST_PRINTED)} …` : plain;
};

const MOST_REFUSALS_SHOWN = 10;

/** Names the first rows that are skipped; a file in another format would fill the console. */
export function reportRefusedRows(file: string): (line: number, reason: string) => void {
  let refused = 0;
  return (line, reason) => {
    refused += 1;
    if (refused <= MOST_REFUSALS_SHOWN) console.error(`${file}:${line}: ${printable(reason)}`);
    if (refused === MOST_REFUSALS_SHOWN + 1) console.error(`${file}: more rows are left out`);
  };
}

/** @param verb that needs them, for the refusal */
export function csvColumns(verb: string, value: (name: string) => string | null): CsvColumns {
  const requireColumn = (name: string): string => {
    const text = value(name);
    if (text === null) throw new VerbRefusal(`${verb} needs --${name}`);
    return text;
  };
  const [probe, probeColumn] = [value('probe'), value('probe-column')];
  if ((probe === null) === (probeColumn === null))
    throw new VerbRefusal(`${verb} needs either --probe or --probe-column`);
  if (probe !== null && !PROBE_ID.test(probe)) throw new VerbRefusal(`--probe: ${probe} is no id of a probe`);
  return {
    time: requireColumn('time'),
    value: requireColumn('value'),
    probe,
    probeColumn,
    unit: choiceOption('unit', value('unit'), ['celsius', 'fahrenheit', 'kelvin']),
    timeFormat: choiceOption('time-format', value('time-format'), [
      'iso',
      'epoch-seconds',
      'epoch-milliseconds',
      'day-first',
      'month-first',
    ]),
    zone: value('zone') ?? 'UTC',
  };
}
