import fc from 'fast-check';
import { randomLcg, randomNormal } from 'd3-random';
import { describe, expect, it } from 'vitest';
import type { BentStick, BentStickTest } from './bent-stick-test.ts';
import { openingOf, openingRows } from './opening-model.ts';
import {
  calibrateRelaxation,
  calibrationCurve,
  calibrationOverrides,
  type RelaxationCalibration,
} from './relaxation-calibration.ts';
import { isCalibrated, relaxationParameters } from './relaxation-parameters.ts';
import { type Celsius, celsius } from '../units.ts';
import { checkedWaxClass } from '../wax-class.ts';

const HOURS = [0.25, 0.5, 1, 2, 4, 8, 12, 24, 36, 48, 72, 96];
/** A 5 mm, τ 12 h at 20 °C, β 0.55, E 95 kJ/mol. */
const TRUTH = { amplitude: 5, tau: 12 * 3600, beta: 0.55, activationEnergy: 95_000 };
const PARAMETERS = [Math.log(5), Math.log(12), 0.55, 0.95];

function made(
  temperatures: readonly BentStick['celsius'][],
  hours: readonly number[],
  noise: () => number = () => 0,
): BentStickTest {
  const empty = temperatures.map((at) => ({
    celsius: at,
    openings: hours.map((hour) => ({ hours: hour, millimetres: 0 })),
  }));
  const rows = openingRows(empty);
  return {
    sticks: empty.map((stick, i) => ({
      ...stick,
      openings: rows
        .filter((row) => row.stick === i + 1)
        .map((row) => ({ hours: row.hours, millimetres: openingOf(PARAMETERS, row, celsius(20)) + noise() })),
    })),
  };
}

const fitted = (test: BentStickTest): RelaxationCalibration => {
  const result = calibrateRelaxation(test);
  if (!result.ok) throw new Error(result.problem.code);
  return result.value;
};
const doubtsOf = (test: BentStickTest): readonly string[] => {
  const { verdict } = fitted(test);
  return verdict.kind === 'fixed' ? [] : verdict.doubts;
};
const THREE = [celsius(10), celsius(20), celsius(30)];

describe('calibration from the bent-stick test', () => {
  it('recovers the parameters of a clean test and calls them fixed', () => {
    const calibration = fitted(made(THREE, HOURS));
    expect(calibration.reference).toBe(20);
    for (const [name, value] of Object.entries(TRUTH))
      expect(calibration[name as keyof typeof TRUTH].value / value).toBeCloseTo(1, 4);
    expect(calibration.verdict).toEqual({ kind: 'fixed' });
  });

  it('recovers known parameters within its own stated errors in at least 90 of 100 noisy seeds', () => {
    const hits = { amplitude: 0, tau: 0, beta: 0, activationEnergy: 0 };
    for (let seed = 1; seed <= 100; seed++) {
      const calibration = fitted(made(THREE, HOURS, randomNormal.source(randomLcg(seed / 101))(0, 0.08)));
      for (const name of Object.keys(hits) as (keyof typeof hits)[])
        if (calibration[name].low <= TRUTH[name] && TRUTH[name] <= calibration[name].high) hits[name]++;
    }
    for (const count of Object.values(hits)) expect(count).toBeGreaterThanOrEqual(90);
  });

  it('follows a place whose temperature changes', () => {
    const swinging = Array.from({ length: 97 }, (_, hour) => ({
      hours: hour,
      celsius: celsius(20 + 6 * Math.sin((hour / 24) * 2 * Math.PI)),
    }));
    const calibration = fitted(made([celsius(10), swinging, celsius(30)], HOURS));
    expect(calibration.tau.value / TRUTH.tau).toBeCloseTo(1, 3);
    expect(calibration.activationEnergy.value / TRUTH.activationEnergy).toBeCloseTo(1, 3);
  });

  it('gives residuals that are what was read less what the curve gives', () => {
    const { residuals, scatter, degreesOfFreedom } = fitted(
      made(THREE, HOURS, randomNormal.source(randomLcg(0.5))(0, 0.1)),
    );
    expect(residuals).toHaveLength(36);
    const squares = residuals.reduce((sum, { measured, fitted: curve }) => sum + (measured - curve) ** 2, 0);
    expect(scatter).toBeCloseTo(Math.sqrt(squares / degreesOfFreedom), 12);
    expect(scatter).toBeGreaterThan(0.06);
    expect(scatter).toBeLessThan(0.14);
  });

  it('draws a curve whose 95 % band covers the truth in at least 36 of 40 seeds, and widens beyond the readings', () => {
    const row = { stick: 1, hours: 24, millimetres: 0, temperatures: [{ hours: 0, celsius: celsius(20) }] };
    const truth = openingOf(PARAMETERS, row, celsius(20));
    let covered = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const calibration = fitted(made(THREE, HOURS, randomNormal.source(randomLcg(seed / 41))(0, 0.1)));
      const [inside, beyond] = calibrationCurve(calibration, celsius(20), [24, 1000]);
      if (inside === undefined || beyond === undefined) throw new Error('two points');
      if (inside.low <= truth && truth <= inside.high) covered++;
      expect(beyond.high - beyond.low).toBeGreaterThan(inside.high - inside.low);
    }
    expect(covered).toBeGreaterThanOrEqual(36);
  });

  it('marks the values of its wax class as calibrated', () => {
    const calibration = fitted(made(THREE, HOURS, randomNormal.source(randomLcg(0.1))(0, 0.05)));
    const overrides = calibrationOverrides(calibration);
    const wax = overrides.ok ? checkedWaxClass('inlay-type-2', overrides.value) : overrides;
    expect(wax.ok && isCalibrated(relaxationParameters(wax.value))).toBe(true);
  });

  it('gives no values to put in where the test fixes none, and names every doubt', () => {
    const short = fitted(
      made(
        [celsius(5), celsius(15)],
        [0.1, 0.2, 0.4, 0.6, 0.8, 1],
        randomNormal.source(randomLcg(0.6))(0, 0.03),
      ),
    );
    const refused = calibrationOverrides(short);
    expect(refused.ok ? null : refused.problem.code).toBe('calibration-not-fixed');
    expect(refused.ok ? null : refused.problem.values?.doubts).toContain('tau-unknown');
  });

  it('never gives a value that the wax class would refuse', () => {
    let given = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const noise = randomNormal.source(randomLcg(seed / 61))(0, 0.05 * (1 + (seed % 20)));
      const calibration = calibrateRelaxation(made(THREE, HOURS, noise));
      const overrides = calibration.ok ? calibrationOverrides(calibration.value) : calibration;
      if (!overrides.ok) continue;
      given++;
      expect(checkedWaxClass('inlay-type-2', overrides.value).ok).toBe(true);
    }
    expect(given).toBeGreaterThan(10);
    expect(given).toBeLessThan(60);
  });

  it('reports that one temperature does not show what temperature does', () => {
    expect(
      doubtsOf(made([celsius(22), celsius(23)], HOURS, randomNormal.source(randomLcg(0.4))(0, 0.05))),
    ).toContain('temperatures-too-close');
    expect(doubtsOf(made([celsius(22), celsius(22)], HOURS))).toContain('temperatures-too-close');
  });

  it('reports that a short test leaves final opening and time constant open', () => {
    const short = made(
      [celsius(5), celsius(15)],
      [0.1, 0.2, 0.4, 0.6, 0.8, 1],
      randomNormal.source(randomLcg(0.6))(0, 0.03),
    );
    expect(doubtsOf(short)).toEqual(expect.arrayContaining(['final-opening-unknown', 'tau-unknown']));
  });

  it('reports that readings which stray do not follow the curve', () => {
    const test = made(THREE, HOURS, randomNormal.source(randomLcg(0.3))(0, 0.5));
    expect(doubtsOf({ ...test, readingError: 0.05 })).toContain('curve-does-not-fit');
    const touched: BentStickTest = {
      sticks: made(THREE, HOURS, randomNormal.source(randomLcg(0.3))(0, 0.01)).sticks.map((stick, i) => ({
        ...stick,
        openings: stick.openings.map((reading, k) => ({
          ...reading,
          millimetres: reading.millimetres + (i !== 0 && k >= 6 ? 1.5 : 0),
        })),
      })),
    };
    expect(doubtsOf(touched)).toContain('curve-does-not-fit');
  });

  it('is the same whatever unit of length the openings are in', () => {
    const test = made(THREE, HOURS, randomNormal.source(randomLcg(0.2))(0, 0.08));
    const first = fitted(test);
    fc.assert(
      fc.property(fc.double({ min: 0.2, max: 5, noNaN: true }), (factor) => {
        const second = fitted({
          sticks: test.sticks.map((stick) => ({
            ...stick,
            openings: stick.openings.map(({ hours, millimetres: mm }) => ({
              hours,
              millimetres: mm * factor,
            })),
          })),
        });
        return Math.abs(second.tau.value / first.tau.value - 1) < 1e-3;
      }),
      { numRuns: 10 },
    );
  });

  it('refuses data that cannot be fitted, with the reason', () => {
    const [stick] = made([celsius(20)], HOURS).sticks;
    if (stick === undefined) throw new Error('no stick');
    const code = (test: BentStickTest) => {
      const result = calibrateRelaxation(test);
      return result.ok ? null : result.problem.code;
    };
    const openings = stick.openings;
    expect(code({ sticks: [] })).toBe('too-few-readings');
    expect(code({ sticks: [{ celsius: celsius(20), openings: openings.slice(0, 2) }] })).toBe(
      'too-few-readings',
    );
    expect(code({ sticks: [{ celsius: celsius(20), openings: openings.slice(0, 5) }] })).toBe(
      'too-few-readings',
    );
    expect(code({ sticks: [{ celsius: celsius(20), openings: openings.toReversed() }] })).toBe(
      'times-unsorted',
    );
    expect(code({ sticks: [{ celsius: Number.NaN as Celsius, openings }] })).toBe('not-a-temperature');
    expect(code({ sticks: [{ celsius: [], openings }] })).toBe('bad-stick-temperature');
    expect(code({ sticks: [{ celsius: [{ hours: 1, celsius: celsius(20) }], openings }] })).toBe(
      'bad-stick-temperature',
    );
    expect(
      code({
        sticks: [{ celsius: celsius(20), openings: [...openings, { hours: 200, millimetres: Number.NaN }] }],
      }),
    ).toBe('bad-opening');
    expect(code({ sticks: [stick], readingError: 0 })).toBe('bad-uncertainty');
  });
});
