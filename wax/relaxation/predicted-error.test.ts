import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type FittedPattern, permanentError, reversibleError } from './predicted-error.ts';
import { type CoursePoint, type ReducedCourse, reducedCourse, reducedSecondsAt } from './reduced-course.ts';
import { isCalibrated, type RelaxationParameters, relaxationParameters } from './relaxation-parameters.ts';
import { releasedShare } from './stretched-exponential.ts';
import { dueInstants } from './tolerance-instant.ts';
import { thermalFactor } from '../heat/thermal-rate.ts';
import { celsius, epochMillis, MILLIS_PER_HOUR, micrometres, millimetres } from '../units.ts';
import { waxClass } from '../wax-class.ts';

const wax = waxClass('inlay-type-1');
const params = relaxationParameters(wax);
const hour = (hours: number) => epochMillis(hours * MILLIS_PER_HOUR);

const points = (temperatures: readonly number[], stepHours = 1): readonly CoursePoint[] =>
  temperatures.map((value, index) => ({ at: hour(index * stepHours), celsius: celsius(value) }));
const courseOf = (course: readonly CoursePoint[]): ReducedCourse => {
  const reduced = reducedCourse(epochMillis(0), course, params.rate);
  if (reduced === null) throw new Error('no temperature');
  return reduced;
};
const lying = (course: ReducedCourse, more: Partial<FittedPattern> = {}): FittedPattern => ({
  technique: 'layered',
  length: millimetres(10),
  frozenAt: epochMillis(0),
  misfit: micrometres(0),
  periods: [{ from: epochMillis(0), to: course.at, isHeld: false }],
  ...more,
});
const errorOf = (temperatures: readonly number[], more: Partial<FittedPattern> = {}) => {
  const course = courseOf(points(temperatures));
  return permanentError(course, lying(course, more), params);
};
const temperatureCourses = fc.array(fc.double({ min: 0, max: 36, noNaN: true }), {
  minLength: 2,
  maxLength: 30,
});
const inside = fc.double({ min: -1, max: 1, noNaN: true });

describe('The permanent error of a pattern', () => {
  it('never falls with time and grows with the length', () => {
    fc.assert(
      fc.property(temperatureCourses, (temperatures) => {
        const whole = errorOf(temperatures).likely;
        expect(whole).toBeGreaterThanOrEqual(errorOf(temperatures.slice(0, -1)).likely);
        expect(errorOf(temperatures, { length: millimetres(30) }).likely).toBeCloseTo(3 * whole, 9);
      }),
    );
  });

  it('never passes the whole frozen strain', () => {
    const forever = courseOf(points([36, 36], 1e5));
    const { likely } = permanentError(forever, lying(forever), params);
    expect(likely).toBeLessThanOrEqual(30);
    expect(likely).toBeGreaterThan(29.9);
  });

  it('is ranked by technique as the strain frozen in', () => {
    const of = (technique: FittedPattern['technique']) => errorOf([23, 23, 23], { technique }).likely;
    expect(of('dipped')).toBeLessThan(of('layered'));
    expect(of('layered')).toBeLessThan(of('pressed'));
    expect(of('pressed')).toBeLessThan(of('sheet'));
  });

  it('lies within its band, which holds every mixture of parameters within their spread', () => {
    fc.assert(
      fc.property(temperatureCourses, inside, inside, inside, (temperatures, tau, beta, strain) => {
        const course = courseOf(points(temperatures));
        const error = permanentError(course, lying(course), params);
        const share = releasedShare(
          reducedSecondsAt(course, course.at).likely / (params.tau * params.spread.tauFactor ** tau),
          params.beta + beta * params.spread.beta,
        );
        const mixed =
          params.frozenStrain.layered * (1 + strain * params.spread.frozenStrainShare) * share * 10_000;
        expect(mixed).toBeGreaterThanOrEqual(error.low - 1e-9);
        expect(mixed).toBeLessThanOrEqual(error.high + 1e-9);
        expect(error.likely).toBeGreaterThanOrEqual(error.low);
        expect(error.likely).toBeLessThanOrEqual(error.high);
      }),
    );
  });

  it('in two stretches off the die is what it would have been in one', () => {
    fc.assert(
      fc.property(
        temperatureCourses,
        fc.double({ min: 0.1, max: 0.9, noNaN: true }),
        (temperatures, part) => {
          const course = courseOf(points(temperatures));
          const middle = epochMillis(Math.round(course.at * part));
          const periods = [
            { from: epochMillis(0), to: middle, isHeld: false },
            { from: middle, to: course.at, isHeld: false },
          ];
          const split = permanentError(course, lying(course, { periods }), params).likely;
          expect(split).toBeCloseTo(permanentError(course, lying(course), params).likely, 6);
        },
      ),
    );
  });

  it('is greater at its upper end across a gap, and less at its lower', () => {
    const gap = points([22, 22, 22]).map((point, index) =>
      index === 1 ? { ...point, atMostCelsius: celsius(30) } : point,
    );
    const course = courseOf(gap);
    const [measured, unmeasured] = [errorOf([22, 22, 22]), permanentError(course, lying(course), params)];
    expect(unmeasured.likely).toBeCloseTo(measured.likely, 9);
    expect(unmeasured.high).toBeGreaterThan(measured.high);
    expect(unmeasured.low).toBeLessThan(measured.low);
  });

  it('is generic until the lab has set tau, exponent and energy', () => {
    const own = (values: Parameters<typeof waxClass>[1]): RelaxationParameters =>
      relaxationParameters(waxClass('inlay-type-1', values));
    const all = { 'relaxation.tau': 5e4, 'relaxation.beta': 0.45, 'relaxation.activationEnergy': 12e4 };
    expect(isCalibrated(params)).toBe(false);
    expect(isCalibrated(own({ 'relaxation.tau': 5e4 }))).toBe(false);
    expect(isCalibrated(own(all))).toBe(true);
  });

  it.each([0, -1, Number.NaN, Infinity])('is refused for a length of %d mm', (length) => {
    expect(() => errorOf([22, 22], { length: length as FittedPattern['length'] })).toThrow(RangeError);
  });
});

describe('The reversible error of a pattern', () => {
  it('from 23 to 33 °C is 32.3 µm over 10 mm at 323e-6, and goes back', () => {
    const there = reversibleError(wax, celsius(23), celsius(33), millimetres(10));
    const back = reversibleError(wax, celsius(33), celsius(23), millimetres(10));
    expect(there.likely).toBeCloseTo(32.3, 9);
    expect(back.likely).toBeCloseTo(-32.3, 9);
    expect(back.low).toBeLessThan(back.high);
  });
});

describe('The instant at which a tolerance is met', () => {
  const dueOf = (course: ReducedCourse, allowed: number, more: Partial<FittedPattern> = {}) =>
    dueInstants(course, lying(course, more), params, micrometres(allowed), [], 0);

  it('at a steady temperature is where the stretched exponential puts it, past and to come alike', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 15, max: 30 }),
        fc.integer({ min: 3, max: 25 }),
        fc.integer({ min: 1, max: 200 }),
        (temperature, allowed, hours) => {
          const course = courseOf(points([temperature, temperature], hours));
          const reduced = params.tau * (-Math.log1p(-allowed / 30)) ** (1 / params.beta);
          const expected = (reduced / thermalFactor(params.rate, temperature)) * 1000;
          const { earliest } = dueOf(course, allowed);
          if (expected < 3e11) expect(Math.abs((earliest ?? 0) - expected)).toBeLessThan(2 + expected * 1e-6);
        },
      ),
    );
  });

  it('is never where the frozen strain does not reach so far, and never on the die', () => {
    const course = courseOf(points([23, 23]));
    expect(dueOf(course, 31).earliest).toBeNull();
    const periods = [{ from: epochMillis(0), to: course.at, isHeld: true }];
    expect(dueOf(course, 20, { periods }).earliest).toBeNull();
    expect(dueOf(course, 20).earliest).not.toBeNull();
  });

  it('is the earlier of two courses: as warm as now, or as the last day went', () => {
    const now = 48;
    const course = courseOf(points(Array.from({ length: now + 1 }, () => 20)));
    const day = (afternoon: number) =>
      Array.from({ length: 26 }, (_, index) => ({
        at: hour(now - 26 + index),
        celsius: index > 10 && index < 16 ? afternoon : 20,
      }));
    const of = (afternoon: number) =>
      dueInstants(course, lying(course), params, micrometres(26), day(afternoon), MILLIS_PER_HOUR);
    const warm = of(34);
    expect(warm.byForecast).toBeLessThan(warm.ifSteady ?? 0);
    expect(warm.earliest).toBe(warm.byForecast);
    expect(Math.abs((of(20).byForecast ?? 0) - (of(20).ifSteady ?? 0))).toBeLessThanOrEqual(2);
    expect(dueInstants(course, lying(course), params, micrometres(26), [], 0)).not.toHaveProperty(
      'byForecast',
    );
  });

  it('is refused for an allowance that is no number', () => {
    expect(() => dueOf(courseOf(points([23, 23])), Number.NaN)).toThrow(RangeError);
  });
});
