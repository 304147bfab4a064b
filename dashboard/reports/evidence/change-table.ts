// Who changed what in the span of a record. Data, like the tables of a place.

import { changedFields } from '../../api/changed-fields.ts';
import type { EvidenceReport } from '../../api/evidence.ts';
import { columnsOf, type RecordTable, type RecordWords } from './place-tables.ts';

const changeText = (before: unknown, after: unknown): string =>
  changedFields(before, after)
    .map(({ field, before: old, after: young }) => `${field}: ${old ?? '–'} → ${young ?? '–'}`)
    .join('; ') || '–';

export const changesTable = (
  { changes, changesLeftOut }: EvidenceReport,
  words: RecordWords,
): RecordTable => ({
  heading: 'evidence.changes',
  first: changes.length === 0 ? 'evidence.changes-none' : null,
  columns: columnsOf(words, [
    ['evidence.when', 14],
    ['evidence.who', 14],
    ['evidence.what', 20],
    ['evidence.change', 38],
    ['evidence.reason', 14],
  ]),
  rows: changes.map((row) => ({
    key: String(row.sequence),
    cells: [
      words.moment(row.at),
      `${row.actor} (${words.word('role', row.role)})`,
      `${words.word('action', row.action)} ${row.entityId}`,
      changeText(row.before, row.after),
      row.reason ?? '–',
    ],
  })),
  ...(changesLeftOut > 0 && { more: words.say('evidence.changes-more', { count: changesLeftOut }) }),
});
