import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  chargeAge,
  chargeAgesAfterTopUp,
  chargeAgesStart,
  MOST_LAYERS,
  steadyMeanDose,
} from './charge-ages.ts';
import { doseAfterTopUp, doseStart } from './heat-dose.ts';
import { equivalentHours, fraction } from './units.ts';

const topUps = fc.array(
  fc.record({
    hours: fc.double({ min: 0, max: 50, noNaN: true }),
    part: fc.double({ min: 0, max: 1, noNaN: true }),
  }),
  { maxLength: 150 },
);
const none = equivalentHours(1e9);

describe('The ages of the wax in a pot', () => {
  it('have the mean that thinning the dose by each top-up gives', () => {
    fc.assert(
      fc.property(topUps, (all) => {
        let ages = chargeAgesStart();
        let running = 0;
        let dose = doseStart();
        for (const { hours, part } of all) {
          running += hours;
          ages = chargeAgesAfterTopUp(ages, equivalentHours(running), fraction(part));
          dose = doseAfterTopUp({ ...dose, hours: equivalentHours(dose.hours + hours) }, fraction(part));
        }
        expect(chargeAge(ages, equivalentHours(running), none).mean).toBeCloseTo(dose.hours, 6);
        expect(ages.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
        expect(ages.length).toBeLessThanOrEqual(MOST_LAYERS);
      }),
    );
  });

  it('tell the share that is past the allowance, which the mean hides', () => {
    const ages = chargeAgesAfterTopUp(chargeAgesStart(), equivalentHours(150), fraction(0.4));
    expect(chargeAge(ages, equivalentHours(170), equivalentHours(160))).toEqual({
      mean: 0.6 * 170 + 0.4 * 20,
      oldest: 170,
      shareOverAllowance: 0.6,
    });
  });

  it('start again at nought with a fresh charge', () => {
    const ages = chargeAgesAfterTopUp(chargeAgesStart(), equivalentHours(150), fraction(1));
    expect(ages).toHaveLength(1);
    expect(chargeAge(ages, equivalentHours(150), none)).toEqual({
      mean: 0,
      oldest: 0,
      shareOverAllowance: 0,
    });
  });

  it('settle at the dose between top-ups over the fraction, when the same is done again and again', () => {
    let ages = chargeAgesStart();
    for (let round = 1; round <= 200; round += 1) {
      ages = chargeAgesAfterTopUp(ages, equivalentHours(round * 8), fraction(0.2));
    }
    const mean = chargeAge(ages, equivalentHours(201 * 8), none).mean;
    expect(mean).toBeCloseTo(steadyMeanDose(equivalentHours(8), fraction(0.2)), 6);
    expect(mean).toBeCloseTo(40, 6);
  });

  it('refuse a fraction that is none', () => {
    const wrong = 1.2 as ReturnType<typeof fraction>;
    expect(() => chargeAgesAfterTopUp(chargeAgesStart(), equivalentHours(1), wrong)).toThrow(RangeError);
  });
});
