import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withSoftHyphens, wordParts } from './word-breaks.ts';

describe('the parts of a long word', () => {
  it.each([
    ['Wachsmodellationsschrank', 'Wachs-mo-del-la-tions-schrank'],
    ['Musterschrank', 'Mus-ter-schrank'],
    ['Tauchtopfgestell', 'Tauch-topf-ges-tell'],
    ['Fensterregalboden', 'Fens-ter-re-gal-bo-den'],
    ['Arbeitsstellenofen', 'Arbeits-stel-le-no-fen'],
    ['Softening-cabinet', 'Sof-te-ning-ca-bi-net'],
  ])('%s ends at syllables', (word, parts) => {
    expect(wordParts(word).join('-').replaceAll('--', '-')).toBe(parts);
  });

  it.each(['Annealer', 'Wachsbad', 'Schmelztopf'])('%s is short enough to stay whole', (word) => {
    expect(wordParts(word)).toEqual([word]);
  });

  it('make the word again, and none at its ends is shorter than three letters', () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[a-zäöüß0-9-]{0,40}$/), (word) => {
        const parts = wordParts(word);
        expect(parts.join('')).toBe(word);
        if (parts.length > 1)
          expect(Math.min(parts[0]?.length ?? 0, parts.at(-1)?.length ?? 0)).toBeGreaterThanOrEqual(3);
        expect(withSoftHyphens(word).replaceAll('\u{ad}', '')).toBe(word);
      }),
    );
  });
});
