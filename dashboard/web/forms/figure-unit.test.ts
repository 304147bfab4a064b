import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../../alerts/watch/rules/all-rules.ts';
import { figureShown, figureTyped } from './figure-unit.ts';

describe('a figure of a rule', () => {
  it.each([
    ['celsius', 140, 60],
    ['celsius', 32, 0],
    ['celsius_difference', 9, 5],
    ['celsius_difference', 0, 0],
    ['celsius_per_hour', 3.6, 2],
    ['minutes', 30, 30],
    ['share', 0.8, 0.8],
  ])(
    'of the unit %s typed as %d by a reader of Fahrenheit is kept as %d and shown as typed',
    (unit, typed, stored) => {
      expect(figureTyped(typed, unit, 'fahrenheit')).toBe(stored);
      expect(figureShown(stored, unit, 'fahrenheit')).toBe(typed);
    },
  );

  it('typed by a reader of Celsius is kept as it is', () => {
    for (const unit of ['celsius', 'celsius_difference', 'celsius_per_hour']) {
      expect(figureTyped(60.5, unit, 'celsius')).toBe(60.5);
      expect(figureShown(60.5, unit, 'celsius')).toBe(60.5);
    }
  });

  it('is shown as it was typed, to the hundredth, in either unit', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -10_000, max: 100_000 }),
        fc.constantFrom('celsius', 'celsius_difference', 'celsius_per_hour', 'hours'),
        fc.constantFrom('celsius' as const, 'fahrenheit' as const),
        (hundredths, figureUnit, unit) => {
          const typed = hundredths / 100;
          expect(figureShown(figureTyped(typed, figureUnit, unit), figureUnit, unit)).toBe(typed);
        },
      ),
    );
  });

  it('of each rule keeps its bounds when they are typed as shown', () => {
    for (const rule of Object.values(RULES))
      for (const { low, high, unit } of Object.values(rule.parameters))
        for (const bound of [low, high])
          expect(figureTyped(figureShown(bound, unit, 'fahrenheit'), unit, 'fahrenheit')).toBe(bound);
  });
});
