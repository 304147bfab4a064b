import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { temperatureAxis, valueTicks } from './value-axis.ts';

const number = (value: number, digits: number) => value.toFixed(digits);
const formats = (unit: 'celsius' | 'fahrenheit') => ({
  unit,
  timeZone: 'UTC',
  number,
  clock: String,
  day: String,
  moment: String,
});

describe('the ticks of an axis of values', () => {
  it.each([
    [17, 26, [18, 20, 22, 24, 26]],
    [0, 720, [0, 200, 400, 600]],
    [-3, 2, [-3, -2, -1, 0, 1, 2]],
  ])('from %d to %d are round numbers', (low, high, ticks) => {
    expect(valueTicks(low, high)).toEqual(ticks);
  });

  it('are two to seven, within the axis and evenly spaced, whatever its ends are', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -300, max: 2000, noNaN: true }),
        fc.double({ min: 0.01, max: 5000, noNaN: true }),
        (low, span) => {
          const ticks = valueTicks(low, low + span);
          const [first = Number.NaN, second = Number.NaN] = ticks;
          expect(ticks.length).toBeGreaterThanOrEqual(2);
          expect(ticks.length).toBeLessThanOrEqual(7);
          expect(first).toBeGreaterThanOrEqual(low - 1e-6 * span);
          expect(ticks.at(-1)).toBeLessThanOrEqual(low + span * (1 + 1e-6));
          for (const [index, tick] of ticks.entries())
            expect(tick).toBeCloseTo(first + index * (second - first), 6);
        },
      ),
    );
  });
});

describe('an axis of temperatures', () => {
  it('holds every value, has its unit as title and reads values out with it', () => {
    const axis = temperatureAxis([18.2, 23.9], formats('celsius'));
    expect(axis.low).toBeLessThan(18.2);
    expect(axis.high).toBeGreaterThan(23.9);
    expect([axis.title, axis.textOf(21)]).toEqual(['°C', '21.0 °C']);
  });

  it('has round degrees of the unit of the reader', () => {
    const axis = temperatureAxis([18, 25], formats('fahrenheit'));
    expect(axis.title).toBe('°F');
    expect(axis.ticks.map(({ text }) => text)).toEqual(['65', '70', '75']);
  });

  it('exists where nothing was measured and no limit is set', () => {
    expect(temperatureAxis([], formats('celsius')).ticks.length).toBeGreaterThan(1);
  });
});
