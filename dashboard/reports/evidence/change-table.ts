// Who changed what in the span of a record. Data, like the tables of a place.

import { changedFields } from '../../api/changed-fields.ts';
import type { EvidenceReport } from '../../api/evidence.ts';
import { type RecordTable, type RecordWords, tableOf } from './place-tables.ts';

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
  ...tableOf(words, changes, ({ sequence }) => String(sequence), [
    ['evidence.when', 14, ({ at }) => words.moment(at)],
    ['evidence.who', 14, ({ actor, role }) => `${actor} (${words.word('role', role)})`],
    ['evidence.what', 20, ({ action, entityId }) => `${words.word('action', action)} ${entityId}`],
    ['evidence.change', 38, ({ before, after }) => changeText(before, after)],
    ['evidence.reason', 14, ({ reason }) => reason ?? '–'],
  ]),
  ...(changesLeftOut > 0 && { more: words.say('evidence.changes-more', { count: changesLeftOut }) }),
});
