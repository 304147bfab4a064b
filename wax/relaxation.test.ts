import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type PatternFacts, predictedError, releasedMicrometres } from './predicted-error.ts';
import {
  likelyReducedSeconds,
  relaxationAdvance,
  relaxationStart,
  relaxationStep,
  runningRelaxation,
} from './reduced-time.ts';
import { isCalibrated, outerCorners, relaxationParameters } from './relaxation-parameters.ts';
import { thermalFactor } from './thermal-rate.ts';
import { type Celsius, celsius, epochMillis, MILLIS_PER_HOUR, millimetres, seconds } from './units.ts';
import { waxClass } from './wax-class.ts';

const wax = waxClass('inlay-type-1');
const params = relaxationParameters(wax, seconds(3600));
const pattern: PatternFacts = { technique: 'layered', length: millimetres(10), fittedCelsius: celsius(23) };

const stored = (temperatures: readonly number[], stepMillis = MILLIS_PER_HOUR, using = params) =>
  temperatures.reduce(
    (state, value, index) => relaxationStep(state, epochMillis(index * stepMillis), celsius(value), using),
    relaxationStart(epochMillis(0)),
  );
const errorOf = (temperatures: readonly number[]) =>
  predictedError(stored(temperatures), pattern, wax, params);
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

  it('carries a straight line across a gap, apart from what was measured, and knows the warmer end', () => {
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

describe('The predicted error', () => {
  it('never falls with time while the temperature stays', () => {
    fc.assert(
      fc.property(fc.integer({ min: 5, max: 36 }), fc.integer({ min: 1, max: 40 }), (temperature, hours) => {
        const steady = (count: number) =>
          errorOf(Array.from({ length: count }, () => temperature)).micrometres;
        expect(steady(hours + 1)).toBeGreaterThan(steady(hours));
      }),
    );
  });

  it('depends on reduced time alone: a short warm stay does what a long cool one does', () => {
    fc.assert(
      fc.property(courses, courses, (one, other) => {
        const [a, b] = [stored(one), stored(other)];
        const stretch = likelyReducedSeconds(a) / likelyReducedSeconds(b);
        const matched = stored(other, MILLIS_PER_HOUR * stretch, { ...params, longestGap: seconds(1e12) });
        const released = (state: typeof a) => predictedError(state, pattern, wax, params).released;
        expect(Math.abs(released(matched) / released(a) - 1)).toBeLessThan(1e-3);
      }),
    );
  });

  it('lies within its band, and the band holds every mixture of parameters within their spread', () => {
    const share = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(courses, share, share, share, (temperatures, tau, beta, strain) => {
        const state = stored(temperatures);
        const error = predictedError(state, pattern, wax, params);
        const mixture = {
          tau: params.tau * params.spread.tauFactor ** tau,
          beta: params.beta + beta * params.spread.beta,
          frozenStrain: params.frozenStrain.layered * (1 + strain * params.spread.frozenStrainShare),
        };
        const mixed = releasedMicrometres(mixture, state.reducedSeconds, pattern.length) + error.thermal;
        expect(mixed).toBeGreaterThanOrEqual(error.low - 1e-9);
        expect(mixed).toBeLessThanOrEqual(error.high + 1e-9);
        expect(error.micrometres).toBeGreaterThanOrEqual(error.low);
        expect(error.micrometres).toBeLessThanOrEqual(error.high);
      }),
    );
  });

  it('never passes the whole frozen-in strain, and grows with the length', () => {
    const forever = stored([36, 36], 1e11, { ...params, longestGap: seconds(1e12) });
    const error = predictedError(forever, pattern, wax, params);
    expect(error.released).toBeLessThanOrEqual(0.003 * 10_000);
    expect(error.released).toBeGreaterThan(0.003 * 10_000 * 0.999);
    const longer = predictedError(forever, { ...pattern, length: millimetres(30) }, wax, params);
    expect(longer.micrometres).toBeCloseTo(3 * error.micrometres, 9);
  });

  it('is ranked by technique as the strain frozen in', () => {
    const state = stored([23, 23, 23]);
    const of = (technique: PatternFacts['technique']) =>
      predictedError(state, { ...pattern, technique }, wax, params).released;
    expect(of('dipped')).toBeLessThan(of('layered'));
    expect(of('layered')).toBeLessThan(of('pressed'));
    expect(of('pressed')).toBeLessThan(of('sheet'));
  });

  it('adds the thermal change since it was fitted: 10 mm from 23 to 33 °C at 323e-6 are 32.3 µm', () => {
    expect(errorOf([33, 33]).thermal).toBeCloseTo(32.3, 9);
    const invested = predictedError(
      stored([33, 33]),
      { ...pattern, investedCelsius: celsius(23) },
      wax,
      params,
    );
    expect(invested.thermal).toBe(0);
  });

  it('of a pattern just made is nought, without any reading', () => {
    const error = predictedError(relaxationStart(epochMillis(0)), pattern, wax, params);
    expect([error.micrometres, error.low, error.high]).toEqual([0, 0, 0]);
  });

  it('says that it is generic until the lab has set tau, exponent and energy', () => {
    expect(errorOf([23, 23])).toMatchObject({ standing: 'common practice', isCalibrated: false });
    const fitted = waxClass('inlay-type-1', {
      'relaxation.tau': 50_000,
      'relaxation.beta': 0.45,
      'relaxation.activationEnergy': 120e3,
    });
    expect(isCalibrated(relaxationParameters(fitted))).toBe(true);
    const fittedError = predictedError(stored([23, 23]), pattern, fitted, relaxationParameters(fitted));
    expect(fittedError).toMatchObject({ standing: 'common practice', isCalibrated: true });
    expect(isCalibrated(relaxationParameters(waxClass('inlay-type-1', { 'relaxation.tau': 50_000 })))).toBe(
      false,
    );
  });

  it('keeps the exponent of the band between 0.05 and 1', () => {
    const wide = { ...params, spread: { ...params.spread, beta: 2 } };
    expect(outerCorners(wide, 'sheet', 1).map(({ beta }) => beta)).toEqual([0.05, 1]);
  });
});
