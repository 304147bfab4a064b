import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readClock, readDay, writeClock, writeDay } from './written-time.ts';

const LOCALES = ['en-GB', 'en-US', 'de-DE'] as const;
const day = fc
  .date({ min: new Date('1990-01-01'), max: new Date('2099-12-31'), noInvalidDate: true })
  .map((date) => date.toISOString().slice(0, 10));
const clock = fc
  .tuple(fc.integer({ min: 0, max: 23 }), fc.integer({ min: 0, max: 59 }))
  .map((parts) => parts.map((part) => String(part).padStart(2, '0')).join(':'));

describe('a day that is written', () => {
  it.each(LOCALES)('and read back in the same language is the same day: %s', (locale) => {
    fc.assert(
      fc.property(day, (each) => {
        expect(readDay(writeDay(each, { locale }), { locale })).toBe(each);
      }),
    );
  });

  it.each([
    ['04.03.2031', 'de-DE', '2031-03-04'],
    ['4.3.31', 'de-DE', '2031-03-04'],
    ['4. März 2031', 'de-DE', '2031-03-04'],
    ['4 Mar 2031', 'en-GB', '2031-03-04'],
    ['Mar 4, 2031', 'en-US', '2031-03-04'],
    ['04/03/2031', 'en-GB', '2031-03-04'],
    ['03/04/2031', 'en-US', '2031-03-04'],
    ['2031-03-04', 'de-DE', '2031-03-04'],
  ])('as %s in %s is understood', (text, locale, expected) => {
    expect(readDay(text, { locale })).toBe(expected);
  });

  it.each(['', '31.02.2031', '4.3.', '4.13.2031', 'tomorrow', '1.2.3.4', '0.3.2031', '4 Foo 2031'])(
    'as “%s” is none',
    (text) => {
      expect(readDay(text, { locale: 'de-DE' })).toBeNull();
    },
  );
});

describe('a time of day that is written', () => {
  it.each(['h12', 'h23'] as const)('and read back is the same time: %s', (hourCycle) => {
    fc.assert(
      fc.property(clock, fc.constantFrom(...LOCALES), (each, locale) => {
        expect(readClock(writeClock(each, { locale, hourCycle }))).toBe(each);
      }),
    );
  });

  it.each([
    ['7:40', '07:40'],
    ['0740', '07:40'],
    ['740', '07:40'],
    ['7', '07:00'],
    ['17', '17:00'],
    ['7.40 Uhr', '07:40'],
    ['12 am', '00:00'],
    ['12:05 p.m.', '12:05'],
  ])('as %s is %s', (text, expected) => {
    expect(readClock(text)).toBe(expected);
  });

  it.each(['', '24:30', '7:60', '13 pm', '0 am', 'noon', '12345'])('as “%s” is none', (text) => {
    expect(readClock(text)).toBeNull();
  });
});
