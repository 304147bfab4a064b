// The hour that a clock change repeats stands in a file twice, with the same clock times. Which of the two a row is of, the
// order of the rows shows. Pure but for what it remembers of the rows before.

import type { EpochMillis } from '../../wax/units.ts';
import type { CsvReading } from './csv-reading.ts';

interface Last {
  readonly at: EpochMillis;
  /** Newest first. */
  readonly isFalling: boolean;
}

/** Gives each row, in the order of the file, its instant by the row of its probe before. */
export function resolveRepeatedHour(): (read: CsvReading) => CsvReading {
  const lastOf = new Map<string, Last>();
  return (read) => {
    if (!read.ok) return read;
    const { reading, secondAt } = read;
    const last = lastOf.get(reading.probe);
    const at =
      secondAt !== undefined && last !== undefined ? chooseInstant(reading.at, secondAt, last) : reading.at;
    lastOf.set(reading.probe, { at, isFalling: last !== undefined && at < last.at });
    return { ok: true, reading: { ...reading, at } };
  };
}

function chooseInstant(first: EpochMillis, second: EpochMillis, last: Last): EpochMillis {
  // Both lie before the previous row: the file has the newest first.
  if (last.isFalling || second < last.at) return second < last.at ? second : first;
  return first <= last.at && second > last.at ? second : first;
}
