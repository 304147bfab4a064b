import { randomNormal, randomUniform } from 'd3-random';
import { randomLcg } from 'd3-random';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitAgreement, type FitPair, fitStrain, LEAST_PAIRS, shareInterval } from './fit-agreement.ts';

const pair = (measured: number, likely: number, half = 20): FitPair => ({
  measuredMicrometres: measured,
  likelyMicrometres: likely,
  lowMicrometres: likely - half,
  highMicrometres: likely + half,
});

describe('the agreement of predicted and measured errors', () => {
  it('is bias, spread and share inside the band: 5, 10 and 30 µm off give 15, 13.2 and two of three', () => {
    const agreement = fitAgreement([pair(45, 40), pair(60, 50), pair(90, 60)]);
    expect(agreement?.biasMicrometres).toBe(15);
    expect(agreement?.spreadMicrometres).toBeCloseTo(Math.sqrt((100 + 25 + 225) / 2), 9);
    expect(agreement?.insideShare).toBeCloseTo(2 / 3, 12);
    expect(agreement?.biasUncertaintyMicrometres).toBeCloseTo(4.3 * Math.sqrt(175 / 3), 6);
  });

  it('moves with a bias that is added to every measurement, and its spread does not', () => {
    const pairs = fc.array(
      fc.record({
        measured: fc.double({ min: 0, max: 300, noNaN: true }),
        likely: fc.double({ min: 0, max: 300, noNaN: true }),
      }),
      { minLength: 2, maxLength: 40 },
    );
    fc.assert(
      fc.property(pairs, fc.double({ min: 0, max: 100, noNaN: true }), (values, added) => {
        const plain = fitAgreement(values.map(({ measured, likely }) => pair(measured, likely)));
        const moved = fitAgreement(values.map(({ measured, likely }) => pair(measured + added, likely)));
        expect((moved?.biasMicrometres ?? 0) - (plain?.biasMicrometres ?? 0)).toBeCloseTo(added, 6);
        expect(moved?.spreadMicrometres).toBeCloseTo(plain?.spreadMicrometres ?? Number.NaN, 6);
      }),
    );
  });

  it('is null for one pair', () => {
    expect(fitAgreement([pair(1, 1)])).toBeNull();
  });

  it('has an interval for its share as in the tables: 8 of 10 lie between 0.490 and 0.943', () => {
    const [low, high] = shareInterval(8, 10);
    expect([low, high]).toEqual([expect.closeTo(0.49, 2), expect.closeTo(0.943, 3)]);
  });
});

describe('the strain that measurements speak for', () => {
  const drawn = (strain: number, constant: number, noise: number, seed: number, count = 40) => {
    const source = randomLcg(seed);
    const perStrain = randomUniform.source(source)(2000, 20_000);
    const error = randomNormal.source(source)(0, noise);
    return Array.from({ length: count }, () => {
      const perStrainMicrometres = perStrain();
      return {
        perStrainMicrometres,
        measuredMicrometres: Math.max(0, constant + strain * perStrainMicrometres + error()),
      };
    });
  };

  it('is found exactly where nothing scatters', () => {
    const fitted = fitStrain(drawn(0.0031, 15, 0, 0.1));
    if (!fitted.ok) throw new Error(fitted.problem.code);
    expect(fitted.value.strain).toBeCloseTo(0.0031, 9);
    expect(fitted.value.constantMicrometres).toBeCloseTo(15, 6);
  });

  it('lies inside its uncertainty in about nineteen of twenty draws', () => {
    const seeds = Array.from({ length: 200 }, (_, index) => (index + 0.5) / 200);
    const held = seeds.filter((seed) => {
      const fitted = fitStrain(drawn(0.003, 20, 6, seed));
      return fitted.ok && Math.abs(fitted.value.strain - 0.003) <= fitted.value.uncertainty;
    });
    expect(held.length / seeds.length).toBeGreaterThan(0.9);
    expect(held.length / seeds.length).toBeLessThan(0.995);
  });

  it('has a band that holds nine of ten of its own measurements', () => {
    const pairs = drawn(0.003, 20, 8, 0.3, 60);
    const fitted = fitStrain(pairs);
    if (!fitted.ok) throw new Error(fitted.problem.code);
    const { strain, constantMicrometres, spreadShare } = fitted.value;
    const inside = pairs.filter(
      ({ measuredMicrometres, perStrainMicrometres }) =>
        Math.abs(measuredMicrometres - constantMicrometres - strain * perStrainMicrometres) <=
        spreadShare * strain * perStrainMicrometres + 1e-9,
    );
    expect(inside.length / pairs.length).toBeGreaterThanOrEqual(0.9);
  });

  it.each([
    ['from fewer than twenty cases', drawn(0.003, 0, 1, 0.5, LEAST_PAIRS - 1), 'too-few-fit-cases'],
    [
      'from cases that are all alike',
      Array.from({ length: 20 }, () => ({ measuredMicrometres: 30, perStrainMicrometres: 9000 })),
      'fit-cases-alike',
    ],
    ['where the measurements do not grow with the prediction', drawn(0, 60, 15, 0.7), 'fit-cases-alike'],
    [
      'from what is no number',
      Array.from({ length: 20 }, () => ({ measuredMicrometres: Number.NaN, perStrainMicrometres: 1 })),
      'not-a-number',
    ],
  ])('is not given %s', (_, pairs, code) => {
    const fitted = fitStrain(pairs);
    expect(fitted.ok ? null : fitted.problem.code).toBe(code);
  });
});
