import { describe, expect, it } from 'vitest';
import { changedFields } from './changed-fields.ts';

describe('what a row of the audit trail changed', () => {
  it('names only the fields that differ', () => {
    const before = { name: 'Pot', kind: 'melt-pot', window_celsius: [60, 70] };
    expect(changedFields(before, { ...before, window_celsius: [60, 72] })).toEqual([
      { field: 'window_celsius', before: '[60,70]', after: '[60,72]' },
    ]);
  });
  it('shows what came and what went', () => {
    expect(changedFields(null, { name: 'Pot' })).toEqual([{ field: 'name', before: null, after: 'Pot' }]);
    expect(changedFields({ name: 'Pot' }, null)).toEqual([{ field: 'name', before: 'Pot', after: null }]);
  });
  it('takes a text as a whole', () => {
    expect(changedFields('a', 'b')).toEqual([{ field: '', before: 'a', after: 'b' }]);
  });
});
