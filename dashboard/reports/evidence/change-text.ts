// What a change was, in one line: each field from what to what.

import { changedFields } from '../../api/changed-fields.ts';

export const changeText = (before: unknown, after: unknown): string =>
  changedFields(before, after)
    .map(({ field, before: old, after: young }) => `${field}: ${old ?? '–'} → ${young ?? '–'}`)
    .join('; ') || '–';
