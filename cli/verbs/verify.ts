// `verify`: reads the database, every pack of readings and the journal, and prints what is wrong. It changes nothing.

import { join } from 'node:path';
import { wholeJournal } from '../../collector/journal/tail-reader.ts';
import { type SeriesFault, verifySeries } from '../../collector/store/verify-series.ts';
import { databaseRefusal, faultsOf, hasTable, readDatabase } from '../../lab/database/database.ts';
import { DATABASE_NAME } from '../data/data-copy.ts';
import { reasonOf } from '../../wax/problem-error.ts';
import { type Verb, verbArguments } from './verb.ts';
import { iso } from '../../wax/iso.ts';

const faultLine = ({ kind, probe, start, end, reason }: SeriesFault): string =>
  `readings ${iso(start)} to ${iso(end)}, ${probe === null ? 'all probes of a pack' : `probe ${probe}`}: ${kind}: ${reason}`;

/** A line for each thing that is wrong in the database at `file`. */
export function databaseFaultLines(file: string): {
  readonly lines: readonly string[];
  readonly readings: number;
  readonly hasDamagedReadings: boolean;
} {
  const connection = readDatabase(file);
  const lines = faultsOf(connection).map((fault) => `database: ${fault}`);
  const none = { lines, readings: 0, hasDamagedReadings: false };
  try {
    const has = (table: string): boolean => hasTable(connection, table);
    // An empty file is a sound database as well.
    if (!has('migration')) lines.push('database: it is none of this program');
    if (!has('reading')) return none;
    const fresh = connection.prepare<[], number>('SELECT count(*) FROM reading').pluck().get() ?? 0;
    // The first version had no packs.
    if (!has('reading_pack')) return { ...none, readings: fresh };
    const before = lines.length;
    const { readings } = verifySeries(connection, (fault) => lines.push(faultLine(fault)));
    const hasDamagedReadings = lines.length > before;
    return { lines, readings: readings + fresh, hasDamagedReadings };
  } catch (error) {
    // Where the file itself is damaged, nothing more can be read of it.
    if (databaseRefusal(error, file) === null) throw error;
    lines.push(`database: ${reasonOf(error)}`);
    return none;
  } finally {
    connection.close();
  }
}

const journalFaultLines = (folder: string): readonly string[] =>
  [...wholeJournal(folder)].flatMap(({ damaged }) =>
    damaged.map(({ at, bytes }) => `journal: ${bytes} damaged bytes at ${at}`),
  );

export const verify: Verb = {
  shape: '[FILE] [--data DIR]',
  help: 'reads a copy, or the data folder while the program runs, and says what is damaged',
  run: (args, usualData) => {
    const { positionals, data } = verbArguments(args, usualData);
    const [copy] = positionals;
    const { hasDamagedReadings, lines, readings } = databaseFaultLines(copy ?? join(data, DATABASE_NAME));
    const all = copy === undefined ? [...lines, ...journalFaultLines(join(data, 'journal'))] : lines;
    for (const line of all) console.log(line);
    console.log(
      all.length === 0
        ? `sound: ${readings} readings`
        : `${all.length} faults, ${readings} readings can be read`,
    );
    if (hasDamagedReadings && copy === undefined)
      console.log('stop the program and run set-aside: it keeps damaged readings apart, and sealing goes on');
    return all.length === 0 ? 0 : 1;
  },
};
