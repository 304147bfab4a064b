import { describe, expect, it } from 'vitest';
import { columnWidths } from './column-widths.ts';

describe('the columns of a table on paper', () => {
  it.each([
    { title: 'follow their shares while every word fits', words: [20, 25, 50], widths: [25, 25, 50] },
    { title: 'take what a longer word needs from the widest one', words: [30, 20, 10], widths: [30, 25, 45] },
    {
      title: 'follow their shares when the widest one has too little',
      words: [40, 40, 30],
      widths: [25, 25, 50],
    },
  ])('$title', ({ words, widths }) => {
    expect(columnWidths([1, 1, 2], words, 100)).toEqual(widths);
  });
});
