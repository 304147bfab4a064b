import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type EpochMillis, MILLIS_PER_DAY } from '../wax/units.ts';
import type { Charge } from './charge.ts';
import { ageShares, lotShares, waxShares } from './charge-shares.ts';

const START = Date.parse('2031-03-03T08:00:00.000Z');
const NOW = (START + 200 * MILLIS_PER_DAY) as EpochMillis;
const charge = (topUps: readonly { day: number; fraction: number; lot?: string }[]): Charge => ({
  id: 'pot-1-a',
  station: 'pot-1',
  wax: 'inlay-dip',
  grams: 200,
  startedAt: new Date(START).toISOString(),
  lot: 'FIRST',
  topUps: topUps.map(({ day, fraction, lot }) => ({
    at: new Date(START + day * MILLIS_PER_DAY).toISOString(),
    fraction,
    by: 'Tom',
    ...(lot !== undefined && { lot }),
  })),
  cleanedAt: null,
  endedAt: null,
});

describe('the shares of wax in a charge', () => {
  it('keep 0.09 of the first wax after 79 top-ups of three per cent each: 0.97 to the 79th', () => {
    const topUps = Array.from({ length: 79 }, (_, day) => ({ day: day + 1, fraction: 0.03 }));
    expect(waxShares(charge(topUps), NOW)[0]?.share).toBeCloseTo(0.0902, 4);
  });

  it('are summed by age: wax of 80 days and more leaves as much as the 69 top-ups since do not replace', () => {
    const topUps = Array.from({ length: 79 }, (_, day) => ({ day: day + 1, fraction: 0.03 }));
    const at = (START + 100 * MILLIS_PER_DAY) as EpochMillis;
    const [oldest, ...younger] = ageShares(charge(topUps), at);
    expect(oldest?.fromDays).toBe(90);
    expect(oldest?.share).toBeCloseTo(0.97 ** 69, 12);
    expect(younger.map(({ fromDays }) => fromDays)).toEqual([30, 7]);
  });

  it('see nothing that is added later', () => {
    const topUps = [
      { day: 1, fraction: 0.25, lot: 'SECOND' },
      { day: 5, fraction: 0.5, lot: 'THIRD' },
    ];
    const third = (START + 3 * MILLIS_PER_DAY) as EpochMillis;
    expect(lotShares(charge(topUps), third)).toEqual([
      { lot: 'FIRST', share: 0.75 },
      { lot: 'SECOND', share: 0.25 },
    ]);
    expect(lotShares(charge(topUps), NOW)).toEqual([
      { lot: 'THIRD', share: 0.5 },
      { lot: 'FIRST', share: 0.375 },
      { lot: 'SECOND', share: 0.125 },
    ]);
  });

  it('sum to one, by wax, lot and age, whatever was added', () => {
    const topUp = fc.record({
      day: fc.integer({ min: 0, max: 199 }),
      fraction: fc.double({ min: 0, max: 1, noNaN: true }),
      lot: fc.constantFrom('A', 'B', 'C'),
    });
    fc.assert(
      fc.property(fc.array(topUp, { maxLength: 150 }), (topUps) => {
        const sum = (shares: readonly { share: number }[]) =>
          shares.reduce((total, { share }) => total + share, 0);
        expect(sum(waxShares(charge(topUps), NOW))).toBeCloseTo(1, 9);
        expect(sum(lotShares(charge(topUps), NOW))).toBeCloseTo(1, 9);
        expect(sum(ageShares(charge(topUps), NOW))).toBeCloseTo(1, 9);
      }),
    );
  });
});
