import { describe, expect, it } from 'vitest';
import { looksLikeName } from './case-reference.ts';

describe('The reference of a case', () => {
  it.each(['Anna Berger', 'Berger, Anna', 'Müller', "O'Neill Sean 26", 'Crown for Berger'])(
    'is doubted as a name: %s',
    (reference) => {
      expect(looksLikeName(reference)).toBe(true);
    },
  );
  it.each(['4711', 'AB-1042 crown 26', 'M 12 crown', 'Case 41, upper left', 'upper left', ''])(
    'is taken as a number or a code: %s',
    (reference) => {
      expect(looksLikeName(reference)).toBe(false);
    },
  );
});
