import { describe, expect, it } from 'vitest';
import { looksLikeName } from './case-reference.ts';

describe('The reference of a case', () => {
  it.each([
    'Anna Berger',
    'Berger, Anna',
    'Müller',
    'MÜLLER',
    'BERGER ANNA 26',
    "O'Neill Sean 26",
    'Crown for Berger',
  ])('is doubted as a name: %s', (reference) => {
    expect(looksLikeName(reference)).toBe(true);
  });
  it.each([
    '4711',
    'Ü-4711 Brücke',
    'UL 26 PFM',
    'AB-1042 crown 26',
    'M 12 crown',
    'Case 41, upper left',
    'upper left',
    '',
  ])('is taken as a number or a code: %s', (reference) => {
    expect(looksLikeName(reference)).toBe(false);
  });
});
