import { describe, expect, it } from 'vitest';
import { messageOf } from './load-languages.ts';
import { waxValueName } from './wax-value-name.ts';

const inGerman = (key: string): string => messageOf('de', key) ?? key;

describe('the name of a value of a wax class', () => {
  it('names of a limit of flow which test at which temperature it belongs to', () => {
    const at = { test: 'flow', at: '37,0 °C' } as const;
    expect(waxValueName('flow.1.atLeast', inGerman, at)).toBe('Fließen, % · bei 37,0 °C · mindestens');
    expect(waxValueName('flow.0.atMost', inGerman, { ...at, test: 'penetration' })).toBe(
      'Penetration, % · bei 37,0 °C · höchstens',
    );
  });

  it('counts the pieces of its expansion from one', () => {
    expect(waxValueName('expansion.1.coefficient', inGerman)).toBe(
      'Ausdehnung · Abschnitt 2 · Koeffizient, 1/K',
    );
  });
});

describe('the source of a melting range', () => {
  it.each(['en', 'de'])('in %s leaves the unit to the temperature that it is filled in with', (language) => {
    for (const code of ['melting-of-one-wax', 'middle-grade', 'baseplate-melting'])
      expect(messageOf(language, `source.${code}`)).not.toMatch(/_celsius} °C/);
  });
});
