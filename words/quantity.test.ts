import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatQuantity, type QuantityFormat } from './quantity.ts';

const english: QuantityFormat = {
  locale: 'en-GB',
  temperatureUnit: 'celsius',
  hourCycle: 'h23',
  timeZone: 'Europe/Berlin',
};
const german: QuantityFormat = { ...english, locale: 'de-DE' };
const american: QuantityFormat = {
  ...english,
  locale: 'en-US',
  temperatureUnit: 'fahrenheit',
  hourCycle: 'h12',
};

describe('a quantity', () => {
  it.each([
    ['value_celsius', 71.25, '71.3 °C', '71,3 °C', '160.3 °F'],
    ['swing_celsius_difference', 5, '5.0 °C', '5,0 °C', '9.0 °F'],
    ['rate_celsius_per_hour', -2, '−2.0 °C/h', '−2,0 °C/h', '−3.6 °F/h'],
    ['left_minutes', 119, '119 min', '119 min', '119 min'],
    ['soaked_minutes', 130, '2 h 10 min', '2 h 10 min', '2 h 10 min'],
    ['dose_hours', 12.34, '12.3 h', '12,3 h', '12.3 h'],
    ['due_micrometres', 41.6, '42 µm', '42 µm', '42 µm'],
    ['dose_share', 0.5, '50%', '50 %', '50%'],
    ['step_seconds', 90, '90 s', '90 s', '90 s'],
  ])('named %s of %d reads "%s", "%s" and "%s"', (name, value, inEnglish, inGerman, inAmerican) => {
    const plain = (text: number | string): string => String(text).replaceAll('\u00a0', ' ');
    expect(plain(formatQuantity(name, value, english))).toBe(inEnglish);
    expect(plain(formatQuantity(name, value, german))).toBe(inGerman);
    expect(plain(formatQuantity(name, value, american))).toBe(inAmerican);
  });

  it('that is an instant has the zone of the lab and the clock of the reader', () => {
    const at = Date.parse('2026-11-24T15:00:00Z');
    expect(formatQuantity('since_at', at, english)).toContain('16:00');
    expect(formatQuantity('since_at', '2026-11-24T15:00:00Z', american)).toMatch(/0?4:00.PM/);
    expect(formatQuantity('since_at', 'long ago', english)).toBe('long ago');
  });

  it('without a unit stays the number by which a plural is chosen', () => {
    expect(formatQuantity('patterns_count', 1, german)).toBe(1);
    expect(formatQuantity('place', 'Pot 1', german)).toBe('Pot 1');
  });

  it('is never minus nought', () => {
    fc.assert(
      fc.property(fc.double({ min: -0.04, max: 0.04, noNaN: true }), (value) => {
        expect(formatQuantity('x_celsius_difference', value, english)).toBe('0.0 °C');
      }),
    );
  });
});
