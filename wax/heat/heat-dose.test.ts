import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  checkedDoseOfRamp,
  type DoseOptions,
  doseAdvance,
  doseAfterTopUp,
  doseKinetics,
  doseOfRamp,
  doseStart,
  doseStep,
  heatDose,
  runningDose,
} from './heat-dose.ts';
import { celsius, epochMillis, fraction, joulesPerMole, MILLIS_PER_SECOND, seconds } from '../units.ts';
import { waxClass } from '../wax-class.ts';

const kinetics = { activationEnergy: joulesPerMole(100e3), reference: celsius(70) };
const options: DoseOptions = { kinetics, longestGap: seconds(600) };

// As fine as a probe's own steps; finer ones only try the rounding of the test's own straight lines.
const temperature = fc.integer({ min: -2000, max: 20_000 }).map((hundredths) => hundredths / 100);
const history = fc.array(fc.record({ after: fc.integer({ min: 1, max: 600 }), to: temperature }), {
  minLength: 1,
  maxLength: 30,
});
type Steps = readonly { readonly after: number; readonly to: number }[];
const series = (steps: Steps) => {
  let at = 0;
  return steps.map(({ after, to }) => {
    at += after * MILLIS_PER_SECOND;
    return { at, celsius: to };
  });
};
const hours = (readings: Parameters<typeof heatDose>[0], more: DoseOptions = options): number => {
  const dose = heatDose(readings, more);
  if (!dose.ok) throw new Error(dose.problem.code);
  return dose.value.hours;
};
const near = (a: number, b: number) => Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b)) + 1e-9;

describe('The heat dose', () => {
  it('of an hour at the reference temperature is one equivalent hour', () => {
    expect(doseOfRamp(celsius(70), celsius(70), seconds(3600), kinetics)).toBe(1);
  });

  it('is additive in time', () => {
    fc.assert(
      fc.property(history, history, (before, after) => {
        const whole = series([...before, ...after]);
        const first = whole.slice(0, before.length);
        const second = whole.slice(before.length - 1);
        expect(near(hours(whole), hours(first) + hours(second))).toBe(true);
      }),
    );
  });

  it('does not change when a straight line is sampled more often, hot limit or not', () => {
    fc.assert(
      fc.property(
        temperature,
        temperature,
        fc.integer({ min: 2, max: 40 }),
        fc.option(temperature, { nil: undefined }),
        (from, to, parts, limit) => {
          const more = limit === undefined ? options : { ...options, hotAbove: celsius(limit) };
          const line = (count: number) =>
            Array.from({ length: count + 1 }, (_, part) => ({
              at: (part * 600_000) / count,
              celsius: from + ((to - from) * part) / count,
            }));
          expect(near(hours(line(parts), more), hours(line(1), more))).toBe(true);
        },
      ),
    );
  });

  it('never falls without a top-up, and lies between that of the coolest and the hottest reading', () => {
    fc.assert(
      fc.property(history, (steps) => {
        const readings = series(steps);
        let last = 0;
        let state = doseStart();
        for (const { at, celsius: value } of readings) {
          state = doseStep(state, epochMillis(at), celsius(value), options);
          expect(state.hours).toBeGreaterThanOrEqual(last);
          last = state.hours;
        }
        const duration = seconds(((readings.at(-1)?.at ?? 0) - (readings[0]?.at ?? 0)) / MILLIS_PER_SECOND);
        const values = steps.map(({ to }) => to);
        const steady = (value: number) => doseOfRamp(celsius(value), celsius(value), duration, kinetics);
        expect(last).toBeGreaterThanOrEqual(steady(Math.min(...values)) * (1 - 1e-9));
        expect(last).toBeLessThanOrEqual(steady(Math.max(...values)) * (1 + 1e-9));
      }),
    );
  });

  it('is the same streamed in place, streamed purely and over the whole series', () => {
    fc.assert(
      fc.property(history, (steps) => {
        const running = runningDose();
        let pure = doseStart();
        for (const { at, celsius: value } of series(steps)) {
          doseAdvance(running, { at: epochMillis(at), celsius: celsius(value) }, options);
          pure = doseStep(pure, epochMillis(at), celsius(value), options);
        }
        expect(running).toEqual(pure);
        expect(hours(series(steps))).toBe(pure.hours);
        expect(JSON.parse(JSON.stringify(pure))).toEqual(pure);
      }),
    );
  });

  it('counts nothing in a gap and reports how long the gap was', () => {
    const dose = heatDose(
      [
        { at: 0, celsius: 90 },
        { at: 600_000, celsius: 90 },
        { at: 1_200_001, celsius: 90 },
      ],
      options,
    );
    expect(dose.ok && dose.value.gapSeconds).toBe(600.001);
    expect(dose.ok && dose.value.hotSeconds).toBe(600);
  });

  it('counts only the part of a straight line above the hot limit', () => {
    const hot = { ...options, hotAbove: celsius(60) };
    const dose = heatDose(
      [
        { at: 0, celsius: 20 },
        { at: 100_000, celsius: 70 },
        { at: 200_000, celsius: 20 },
      ],
      hot,
    );
    expect(dose.ok && dose.value.hotSeconds).toBeCloseTo(40, 9);
    expect(dose.ok && dose.value.hours).toBeCloseTo(
      2 * doseOfRamp(celsius(60), celsius(70), seconds(20), kinetics),
      12,
    );
  });

  it('falls by the fraction of fresh wax, and to nought with a fresh charge', () => {
    const state = { ...doseStart(), hours: 40 as ReturnType<typeof doseOfRamp> };
    expect(doseAfterTopUp(state, fraction(0.25)).hours).toBe(30);
    expect(doseAfterTopUp(state, fraction(1)).hours).toBe(0);
    expect(() => doseAfterTopUp(state, 1.5 as ReturnType<typeof fraction>)).toThrow(RangeError);
  });

  it('of a wax class takes its energy and reference from the class, the lab’s own too', () => {
    const wax = waxClass('inlay-dip', { 'kinetics.reference': 88 });
    expect(doseKinetics(wax)).toEqual({ activationEnergy: 100e3, reference: 88 });
  });
});

describe('Bad input to the heat dose', () => {
  it.each([
    ['an empty series', [], 'series-empty'],
    ['NaN', [{ at: 0, celsius: Number.NaN }], 'not-a-temperature'],
    ['infinite heat', [{ at: 0, celsius: Number.POSITIVE_INFINITY }], 'not-a-temperature'],
    ['below absolute zero', [{ at: 0, celsius: -273.16 }], 'not-a-temperature'],
    ['a time that is no number', [{ at: Number.NaN, celsius: 20 }], 'not-an-instant'],
    [
      'times that run back',
      [
        { at: 5, celsius: 20 },
        { at: 4, celsius: 20 },
      ],
      'times-unsorted',
    ],
    [
      'a repeated time',
      [
        { at: 5, celsius: 20 },
        { at: 5, celsius: 20 },
      ],
      'times-unsorted',
    ],
  ])('is refused with its reason: %s', (_, readings, code) => {
    const dose = heatDose(readings, options);
    expect(!dose.ok && dose.problem.code).toBe(code);
  });

  it('is refused for a ramp: a negative or endless duration, no temperature', () => {
    const code = (from: number, duration: number) => {
      const result = checkedDoseOfRamp(from, 70, duration, kinetics);
      return result.ok ? 'accepted' : result.problem.code;
    };
    expect(code(70, -1)).toBe('negative-duration');
    expect(code(70, Number.POSITIVE_INFINITY)).toBe('negative-duration');
    expect(code(Number.NaN, 1)).toBe('not-a-temperature');
    expect(() => doseOfRamp(celsius(70), celsius(70), seconds(-1), kinetics)).toThrow(RangeError);
  });

  it('changes nothing in a stream but the count of refused readings', () => {
    const state = doseStep(doseStart(), epochMillis(1000), celsius(70), options);
    const nan = Number.NaN as ReturnType<typeof celsius>;
    expect(doseStep(state, epochMillis(2000), nan, options)).toEqual({ ...state, refused: 1 });
    expect(doseStep(state, epochMillis(999), celsius(70), options)).toEqual({ ...state, refused: 1 });
  });

  it('of a probe at absolute zero gives a finite dose', () => {
    expect(doseOfRamp(celsius(-273.15), celsius(70), seconds(1), kinetics)).toBeGreaterThan(0);
    expect(doseOfRamp(celsius(-273.15), celsius(-273.15), seconds(1), kinetics)).toBe(0);
  });
});
