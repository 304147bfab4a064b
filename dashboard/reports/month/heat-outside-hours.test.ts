import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SeriesBucket } from '../../../collector/store/store.ts';
import { celsius, epochMillis, joulesPerMole, MILLIS_PER_HOUR } from '../../../wax/units.ts';
import { type ClosedSpan, heatOutsideHours, type MeasuredHeater } from './heat-outside-hours.ts';

const WIDTH = 600_000;
const PER_HOUR = MILLIS_PER_HOUR / WIDTH;
const hour = (count: number) => epochMillis(count * MILLIS_PER_HOUR);
/** One value an hour, null where nothing was measured. */
const hours = (values: readonly (number | null)[]): readonly SeriesBucket[] =>
  values.flatMap((value, index) =>
    value === null
      ? []
      : Array.from({ length: PER_HOUR }, (_, part) => ({
          at: epochMillis(index * MILLIS_PER_HOUR + part * WIDTH),
          min: value,
          mean: value,
          max: value,
          count: 10,
          doubtful: 0,
        })),
  );
const pot = (values: readonly (number | null)[], change: Partial<MeasuredHeater> = {}): MeasuredHeater => ({
  station: 'pot',
  name: 'Pot',
  watts: 200,
  buckets: hours(values),
  widthMillis: WIDTH,
  onFromAt: () => 65,
  wax: {
    kinetics: { activationEnergy: joulesPerMole(100e3), reference: celsius(70) },
    meltsFrom: celsius(55),
  },
  ...change,
});
/** Open for the first two hours, closed for the next four. */
const NIGHT: ClosedSpan = { from: hour(2), to: hour(6) };

describe('a heater while the lab was closed', () => {
  it('has the hours at its working temperature, their energy and dose, and what an off pot was spared', () => {
    const month = heatOutsideHours(pot([70, 70, 70, 60, 20, 20]), [NIGHT]);
    expect(month).toMatchObject({ closedMinutes: 240, unseenMinutes: 0, onMinutes: 60 });
    expect(month.kilowattHours).toBeCloseTo(0.2, 9);
    // An hour at the reference, and one at 60 °C where exp(-100e3 / R (1/333.15 - 1/343.15)) = 0.349 of it counts.
    expect(month.doseHours).toBeCloseTo(1.349, 3);
    expect(month.sparedDoseHours).toBeCloseTo(4 - 1.349, 3);
  });
  it('was spared nothing when it stayed on', () => {
    const month = heatOutsideHours(pot([70, 70, 70, 70, 70, 70]), [NIGHT]);
    expect(month.onMinutes).toBe(240);
    expect(month.sparedDoseHours).toBeCloseTo(0, 9);
  });
  it('counts hours without readings as not measured and not as off', () => {
    expect(heatOutsideHours(pot([70, 70, 70, null, null, 20]), [NIGHT])).toMatchObject({
      onMinutes: 60,
      unseenMinutes: 120,
    });
  });
  it('has no energy without a power and no dose without a wax', () => {
    expect(heatOutsideHours(pot([70, 70, 70], { watts: null, wax: null }), [NIGHT])).toMatchObject({
      kilowattHours: null,
      doseHours: null,
      sparedDoseHours: null,
    });
  });
  it('has no avoided dose when it was never on in working hours', () => {
    expect(heatOutsideHours(pot([20, 20, 70, 20, 20, 20]), [NIGHT]).sparedDoseHours).toBeNull();
  });
  it('is judged by the working temperature that held at each instant', () => {
    const lowered = pot([70, 70, 60, 60, 60, 60], { onFromAt: (at) => (at < hour(4) ? 65 : 55) });
    expect(heatOutsideHours(lowered, [NIGHT]).onMinutes).toBe(120);
  });
  it('is never on for longer than it was measured, and never measured for longer than the lab was closed', () => {
    const values = fc.array(fc.option(fc.integer({ min: 10, max: 120 })), { minLength: 6, maxLength: 6 });
    fc.assert(
      fc.property(values, (course) => {
        const month = heatOutsideHours(pot(course), [NIGHT]);
        expect(month.onMinutes + month.unseenMinutes).toBeLessThanOrEqual(month.closedMinutes + 1e-9);
        expect(month.sparedDoseHours ?? 0).toBeGreaterThanOrEqual(0);
      }),
    );
  });
});
