import { describe, expect, it } from 'vitest';
import { spansOf, spanTexts } from './spans.ts';

describe('working hours in the form', () => {
  it('read back as they were written, in order', () => {
    expect(spanTexts(spansOf(['13:00-17:00', '08:00-12:00']))).toEqual(['08:00-12:00', '13:00-17:00']);
  });
  it('end at midnight as 24:00, which a field for a time cannot hold', () => {
    expect(spansOf(['20:00-24:00'])).toEqual([['20:00', '00:00']]);
    expect(spanTexts([['20:00', '00:00']])).toEqual(['20:00-24:00']);
  });
  it('are none on a closed day', () => {
    expect(spansOf(undefined)).toEqual([]);
  });
});
