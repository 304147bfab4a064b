import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { distinctNames, linesOf, linesOfName } from './text-fit.ts';

const byLetters = (text: string): number => text.length;

describe('lines of a text', () => {
  it.each([
    ['', 10, 0],
    ['Over ceiling', 12, 1],
    ['Over ceiling', 11, 2],
    ['Over ceiling', 7, 2],
    ['Over ceiling', 6, Number.POSITIVE_INFINITY],
  ])('"%s" in a width of %d letters takes %d', (text, width, lines) => {
    expect(linesOf(text, width, byLetters)).toBe(lines);
  });
});

describe('lines of a name', () => {
  it.each([
    ['Dip pot', 7, 1],
    ['Dip pot', 6, 2],
    ['Wachsmodellationsschrank 5', 15, 2],
    ['Am Fenster Wachsmodellationsschrank', 20, 2],
    ['Wachsmodellationsschrank', 8, 4],
    ['Strengths', 4, 3],
    ['', 5, 0],
  ])('"%s" in a width of %d letters takes %d, long words broken', (name, width, lines) => {
    expect(linesOfName(name, width, byLetters)).toBe(lines);
  });
});

describe('names too long for their place', () => {
  const fitsIn = (letters: number) => (text: string) => text.length <= letters;

  it('stay whole when they fit', () => {
    expect(distinctNames(['Dip pot', 'Melt pot 1'], fitsIn(10))).toEqual(['Dip pot', 'Melt pot 1']);
  });
  it('keep their beginning where they differ there', () => {
    expect(distinctNames(['Crown and bridge pot', 'Partial denture pot'], fitsIn(8))).toEqual([
      'Crown…',
      'Partial…',
    ]);
  });
  it('keep the ends where only these differ', () => {
    const names = distinctNames(['Melting pot bench 11', 'Melting pot bench 12'], fitsIn(9));
    expect(new Set(names).size).toBe(2);
    expect(names[0]).toMatch(/11$/);
    expect(names[1]).toMatch(/12$/);
  });
  it('never read alike for numbered stations, and never run over their place', () => {
    fc.assert(
      fc.property(
        fc.string({ minLength: 12, maxLength: 30 }).filter((text) => text.trim() === text),
        fc.integer({ min: 8, max: 16 }),
        (name, width) => {
          const names = Array.from({ length: 40 }, (_, index) => `${name} ${index}`);
          const shown = distinctNames(names, fitsIn(width));
          expect(new Set(shown).size).toBe(40);
          for (const text of shown) expect(text.length).toBeLessThanOrEqual(width);
        },
      ),
    );
  });
});
