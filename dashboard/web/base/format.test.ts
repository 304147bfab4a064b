import { describe, expect, it } from 'vitest';
import {
  differenceInUnit,
  formatAge,
  formatAgeShort,
  formatAgo,
  formatDegrees,
  formatInstant,
  instantFormat,
  formatLimit,
  formatNumber,
  formatSignificant,
  formatTemperature,
  formatTime,
  type Reader,
} from './format.ts';

const english: Reader = { locale: 'en-GB', unit: 'celsius', hourCycle: 'h23', timeZone: 'Europe/Berlin' };
const german: Reader = { ...english, locale: 'de-DE' };
const american: Reader = {
  locale: 'en-GB',
  unit: 'fahrenheit',
  hourCycle: 'h12',
  timeZone: 'America/Chicago',
};

describe('numbers as people read them', () => {
  it('shows one decimal, in the language of the reader', () => {
    expect(formatTemperature(89.44, english)).toBe('89.4 °C');
    expect(formatTemperature(89.44, german)).toBe('89,4 °C');
  });
  it('converts a temperature with its offset and a difference without', () => {
    expect(formatTemperature(100, american)).toBe('212.0 °F');
    expect(differenceInUnit(5, 'fahrenheit')).toBe(9);
  });
  it('keeps the noughts of a whole number and four figures of any other', () => {
    expect([2500, 900, 0.000323, 126_800, 1.268e7].map((value) => formatSignificant(value, english))).toEqual(
      ['2500', '900', '3.23\u00a0·\u00a010⁻⁴', '126800', '1.268\u00a0·\u00a010⁷'],
    );
    expect(formatSignificant(0.25, german)).toBe('0,25');
  });
  it('writes a minus sign and never a negative nought', () => {
    expect(formatNumber(-3.25, 1, english)).toBe('−3.3');
    expect(formatNumber(-0.04, 1, english)).toBe('0.0');
  });
  it('gives a limit a decimal only when it has one', () => {
    expect(formatLimit(85, english)).toBe('85');
    expect(formatLimit(85.5, german)).toBe('85,5');
    expect(formatLimit(85, american)).toBe('185');
  });
  it('never groups digits of a temperature', () => {
    expect(formatDegrees(1234.5, english)).toBe('1234.5');
  });
});

describe('ages and instants', () => {
  it.each([
    [0, '0 s'],
    [119, '119 s'],
    [120, '2 min'],
    [7199, '119 min'],
    [7200, '2 h'],
    [172_800, '2 days'],
  ])('writes %d s in the largest unit that fits twice', (seconds, text) => {
    expect(formatAge(seconds, english)).toBe(text);
  });
  it('names days in the language of the reader', () => {
    expect(formatAge(259_200, { locale: 'de-DE' })).toBe('3 Tage');
  });
  it('says how long ago in the language of the reader', () => {
    expect([0, 12, 840, 259_200].map((seconds) => formatAgo(seconds, { locale: 'de-DE' }))).toEqual([
      'jetzt',
      'vor 12 Sek.',
      'vor 14 Min.',
      'vor 3 Tagen',
    ]);
  });
  it('has a short form that needs no language', () => {
    expect([0, 840, 90_000].map(formatAgeShort)).toEqual(['0 s', '14 min', '25 h']);
  });
  it('never writes a negative age, when a clock of a probe runs ahead', () => {
    expect(formatAge(-5, english)).toBe('0 s');
  });
  it('follows the zone of the lab through its clock changes', () => {
    expect(formatTime('2026-10-24T12:00:00Z', english)).toBe('14:00');
    expect(formatTime('2026-10-25T12:00:00Z', english)).toBe('13:00');
  });
  it('follows the hour cycle', () => {
    expect(formatTime('2026-11-25T20:05:00Z', american)).toMatch(/^2:05\s?pm$/i);
  });
  it('adds the day only when it is another one', () => {
    const now = Date.parse('2026-11-25T14:00:00Z');
    expect(formatInstant('2026-11-25T13:00:00Z', now, english)).toBe('14:00');
    expect(formatInstant('2026-11-24T13:00:00Z', now, english)).toMatch(/24 Nov.*14:00/);
    expect(formatInstant('2025-11-25T13:00:00Z', now, english)).toMatch(/25 Nov.*14:00/);
  });
  it('writes instants that are shown together one way: all with their day unless all are of today', () => {
    const now = Date.parse('2026-11-25T14:00:00Z');
    const [morning, yesterday] = ['2026-11-25T07:00:00Z', '2026-11-24T13:00:00Z'];
    expect([morning].map(instantFormat([morning], now, english))).toEqual(['08:00']);
    expect([yesterday, morning].map(instantFormat([yesterday, morning], now, english))).toEqual([
      expect.stringMatching(/24 Nov.*14:00/),
      expect.stringMatching(/25 Nov.*08:00/),
    ]);
  });
});
