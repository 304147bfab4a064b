import { describe, expect, it } from 'vitest';
import { stationId } from './station-id.ts';

describe('the id of a new station', () => {
  it.each([
    ['Melting pot 1', 'melting-pot-1'],
    ['Größe Ü', 'grosse-u'],
    ['  --  ', 'station'],
    ['蝋', 'station'],
    ['x'.repeat(80), 'x'.repeat(36)],
  ])('is made from its name: %s', (name, id) => {
    expect(stationId(name, [])).toBe(id);
  });
  it('is one that no other has', () => {
    expect(stationId('Pot', ['pot', 'pot-2'])).toBe('pot-3');
  });
});
