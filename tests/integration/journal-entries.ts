// What is in the journal of an intake, read as the pipeline reads it.

import { join } from 'node:path';
import type { Intake } from '../../collector/intake/intake.ts';
import { segmentsIn, readSegment } from '../../collector/journal/segments.ts';
import { tailReader } from '../../collector/journal/tail-reader.ts';
import type { Entry } from '../../lab/entry.ts';

/** All entries from the first on, in the order in which they came. */
export const entriesOf = (folder: string, intake: Intake): readonly Entry[] => {
  const reader = tailReader(folder);
  const entries: Entry[] = [];
  for (let at = 0; at < intake.journalEnd(); ) {
    const tail = reader.read(at, intake.journalEnd());
    entries.push(...tail.entries);
    at = tail.next;
  }
  reader.close();
  return entries;
};

/** Bytes that the journal of a lab's folder has ever had. */
export const journalLength = (data: string): number => {
  const newest = segmentsIn(join(data, 'journal')).at(-1);
  return newest === undefined ? 0 : newest.base + readSegment(newest).length;
};

export const readingsOf = (entries: readonly Entry[]) =>
  entries.flatMap((entry) => (entry.kind === 'readings' ? entry.readings : []));
