// The check of words can fail, and takes no innocent word.

import { describe, expect, it } from 'vitest';
import { doubleTypes, forbiddenWords, wordsIn } from './check-words.mjs';

const PAGE = `
## Words that are not used

| not | use instead | but |
|---|---|---|
| \`told\`, \`heard\` | notified | \`told apart\` |
| \`put aside\` | shelved | |

## Where an old word stays

| word | where | why |
|---|---|---|
| \`heard\` | \`collector/\` | stored under this name |
`;
const forbidden = forbiddenWords(PAGE);

describe('a line', () => {
  it.each([
    ['const told = people;', ['told']],
    ['readonly heardAt: number', ['heard']],
    ['LAST_HEARD', ['heard']],
    ["kind: 'put-aside'", ['put aside']],
    ['// Nobody was told.', ['told']],
    ['two lines that are told apart', []],
    ['untold and hearding', []],
  ])('%s holds the forbidden words %j', (line, words) => {
    expect(wordsIn(line, forbidden, 'lab/x.ts')).toEqual(words);
  });

  it('may hold an old word where the glossary lets it stay', () => {
    expect(wordsIn('heardAt', forbidden, 'collector/qualify/x.ts')).toEqual([]);
  });
});

it('two exported types of one name are refused with both files', () => {
  const files = [
    { path: 'lab/a.ts', text: 'export interface Night {}' },
    { path: 'wax/b.ts', text: 'export type Night = string;\nexport type Day = string;' },
  ];
  expect(doubleTypes(files)).toEqual(['Night: lab/a.ts, wax/b.ts']);
});
