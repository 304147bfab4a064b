import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { heatCapacityRatio, thermalRates, waxGrams } from './thermal-mass.ts';
import { type ThermostatCycle, thermostatTimes } from './thermostat-cycle.ts';
import { celsius, epochMillis, seconds } from '../units.ts';

/** Cycles between 68 and 72 °C of a pot with `capacity` J/K, 60 W heater and a loss of 0.6 W/K to 25 °C. */
const cycles = (capacity: number, loss = 0.6): ThermostatCycle[] => {
  const times = thermostatTimes(
    { timeConstant: seconds(capacity / loss), ambient: celsius(25), heaterOn: celsius(25 + 60 / loss) },
    celsius(68),
    celsius(72),
  );
  if (!times.ok) throw new Error(times.problem.code);
  const { onSeconds, offSeconds } = times.value;
  return [0, 1, 2, 3].map((i) => ({
    from: epochMillis(i * 1e6),
    to: epochMillis(i * 1e6 + 1),
    riseSeconds: onSeconds,
    fallSeconds: offSeconds,
    low: 68,
    high: 72,
  }));
};
const rates = (capacity: number, loss?: number) => {
  const result = thermalRates(cycles(capacity, loss));
  if (!result.ok) throw new Error(result.problem.code);
  return result.value;
};

describe('thermal mass', () => {
  it('finds the heat capacity whatever is lost to the room', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 200, max: 3000, noNaN: true }),
        fc.double({ min: 0.2, max: 1, noNaN: true }),
        // 68 to 72 °C is a finite band, not one temperature: exact to a few tenths of a percent.
        (capacity, loss) => Math.abs(60 / rates(capacity, loss).powerOverCapacity / capacity - 1) < 0.01,
      ),
    );
  });

  it('takes a pot that is half empty as one of less heat capacity', () => {
    const { ratio, uncertainty } = heatCapacityRatio(rates(1000), rates(600));
    expect(ratio).toBeCloseTo(0.6, 3);
    expect(uncertainty).toBeLessThan(1e-6);
  });

  it('weighs the wax when heater and empty pot are known', () => {
    // 250 g at 2.2 kJ/(kg K) in a pot of 300 J/K: 850 J/K.
    const grams = waxGrams(rates(850), { heaterPower: 60, emptyCapacity: 300, waxHeatCapacity: 2200 });
    expect(grams.ok && Math.abs(grams.value - 250)).toBeLessThan(2);
  });

  it('leaves out cycles that touch melting, and reports when too few are left', () => {
    const result = thermalRates(cycles(1000), { low: celsius(60), high: celsius(70) });
    expect(result.ok ? null : result.problem.code).toBe('too-few-cycles');
    expect(thermalRates(cycles(1000), { low: celsius(48), high: celsius(62) }).ok).toBe(true);
  });

  it('refuses a pot without power', () => {
    const result = waxGrams(rates(850), { heaterPower: 0, emptyCapacity: 300, waxHeatCapacity: 2200 });
    expect(result.ok ? null : result.problem.code).toBe('bad-pot');
  });
});
