import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { relaxationAdvance, relaxationStart, relaxationStep, runningRelaxation } from './reduced-time.ts';
import { relaxationParameters } from './relaxation-parameters.ts';
import { thermalFactor } from '../heat/thermal-rate.ts';
import { type Celsius, celsius, epochMillis, MILLIS_PER_HOUR, seconds } from '../units.ts';
import { waxClass } from '../wax-class.ts';

const wax = waxClass('inlay-type-1');
const params = relaxationParameters(wax, seconds(3600));

const stored = (temperatures: readonly number[], stepMillis = MILLIS_PER_HOUR, using = params) =>
  temperatures.reduce(
    (state, value, index) => relaxationStep(state, epochMillis(index * stepMillis), celsius(value), using),
    relaxationStart(epochMillis(0)),
  );
const courses = fc.array(fc.double({ min: 0, max: 37, noNaN: true }), { minLength: 2, maxLength: 30 });

describe('The reduced time of a stored pattern', () => {
  it('never runs back, and runs faster when it is warmer', () => {
    fc.assert(
      fc.property(courses, fc.double({ min: 0.1, max: 5, noNaN: true }), (temperatures, warmer) => {
        const cool = stored(temperatures);
        const warm = stored(temperatures.map((value) => value + warmer));
        expect(warm.reducedSeconds).toBeGreaterThan(cool.reducedSeconds);
        expect(cool.reducedSeconds).toBeGreaterThan(stored(temperatures.slice(0, -1)).reducedSeconds);
      }),
    );
  });

  it('does not change when a straight line is read more often', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 37 }),
        fc.integer({ min: 0, max: 37 }),
        fc.integer({ min: 2, max: 60 }),
        (from, to, parts) => {
          const line = Array.from({ length: parts + 1 }, (_, part) => from + ((to - from) * part) / parts);
          const often = stored(line, MILLIS_PER_HOUR / parts).reducedSeconds;
          expect(Math.abs(often / stored([from, to]).reducedSeconds - 1)).toBeLessThan(1e-9);
        },
      ),
    );
  });

  it('is real time at the reference temperature', () => {
    const reference = wax.relaxation.reference.value;
    expect(stored([reference, reference, reference]).reducedSeconds).toBeCloseTo(7200, 8);
  });

  it('takes the first reading for the time since the pattern was made', () => {
    const state = relaxationStep(
      relaxationStart(epochMillis(0)),
      epochMillis(1_800_000),
      celsius(wax.relaxation.reference.value),
      params,
    );
    expect(state.reducedSeconds).toBeCloseTo(1800, 8);
  });

  it('carries a straight line across a gap, apart from what was measured, and has the warmer end', () => {
    const state = stored([20, 20, 26], 2 * MILLIS_PER_HOUR);
    expect(state.reducedSeconds).toBe(0);
    expect(state.gapSeconds).toBe(14_400);
    expect(state.gapReducedMost).toBeGreaterThan(state.gapReducedSeconds);
    expect(state.gapReducedMost).toBeCloseTo(
      7200 * (thermalFactor(params.rate, 20) + thermalFactor(params.rate, 26)),
      6,
    );
  });

  it('refuses what is no temperature and what is not newer, and counts it', () => {
    const state = stored([20, 21]);
    expect(relaxationStep(state, epochMillis(9e9), Number.NaN as Celsius, params)).toEqual({
      ...state,
      refused: 1,
    });
    expect(relaxationStep(state, state.at, celsius(21), params)).toEqual({ ...state, refused: 1 });
    expect(relaxationStep(state, epochMillis(-1), celsius(21), params)).toEqual({ ...state, refused: 1 });
  });

  it('is the same in place as purely, and plain JSON', () => {
    const running = runningRelaxation(relaxationStart(epochMillis(0)));
    [20, 25, 22].forEach((value, hour) => {
      relaxationAdvance(
        running,
        { at: epochMillis(hour * MILLIS_PER_HOUR), celsius: celsius(value) },
        params,
      );
    });
    expect(running).toEqual(stored([20, 25, 22]));
    expect(JSON.parse(JSON.stringify(running))).toEqual(running);
  });
});
