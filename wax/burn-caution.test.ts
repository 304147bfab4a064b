import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BURN_CAUTIONS, type BurnContact, burnCaution } from './burn-caution.ts';
import { type Celsius, celsius } from './units.ts';

const key = (t: number, contact: BurnContact) => {
  const result = burnCaution(celsius(t), contact);
  return result.ok ? result.value.key : result.problem.code;
};

const order: readonly string[] = BURN_CAUTIONS;
const severity = (t: number, contact: BurnContact) => order.indexOf(key(t, contact));

describe('burn caution', () => {
  it.each([
    [43.9, 'liquid', 'burn-not-expected'],
    [44, 'liquid', 'burn-after-long-contact'],
    [49, 'liquid', 'burn-within-minutes'],
    [54, 'liquid', 'burn-within-seconds'],
    [60.1, 'liquid', 'burn-at-once'],
    [95, 'liquid', 'burn-at-once'],
    [42.9, 'surface', 'burn-not-expected'],
    [48.1, 'surface', 'burn-within-minutes'],
    [52, 'surface', 'burn-within-seconds'],
    [65, 'surface', 'burn-at-once'],
    [180, 'surface', 'burn-at-once'],
  ] satisfies [number, BurnContact, string][])('%d °C %s: %s', (t, contact, expected) => {
    expect(key(t, contact)).toBe(expected);
  });

  it('never gets milder as it gets hotter', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 20, max: 200, noNaN: true }),
        fc.double({ min: 0, max: 50, noNaN: true }),
        fc.constantFrom<BurnContact>('liquid', 'surface'),
        (t, more, contact) => severity(t + more, contact) >= severity(t, contact),
      ),
    );
  });

  it('carries the source of its time and warns that wax clings', () => {
    const result = burnCaution(celsius(60), 'liquid', true);
    expect(result.ok ? result.value : null).toMatchObject({
      clings: true,
      seconds: { value: 3, standing: 'from memory' },
    });
  });

  it('of what is no temperature is refused', () => {
    const result = burnCaution(Number.NaN as Celsius, 'surface');
    expect(result.ok ? null : result.problem.code).toBe('not-a-temperature');
  });
});
