import { randomLcg, randomNormal } from 'd3-random';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { probeHealth } from './probe-health.ts';

const every = (values: readonly number[], seconds = 10) =>
  values.map((celsius, index) => ({ at: 1_000_000 + index * seconds * 1000, celsius }));
const repeated = (count: number, value: (index: number) => number): readonly number[] =>
  Array.from({ length: count }, (_, index) => value(index));
/** Standard normal, the same in every run. */
const scatter = randomNormal.source(randomLcg(7))(0, 1);

describe('the health of a probe', () => {
  it('of no readings is empty', () => {
    expect(probeHealth([])).toEqual({
      readings: 0,
      interval_seconds: null,
      longestGap_seconds: null,
      longestSame_seconds: null,
      noise_celsius: null,
      spikes: [],
      jumps: [],
    });
  });

  it('has the usual step, the longest pause and the longest rest on one value', () => {
    const readings = [...every([60, 61, 61, 61, 62]), { at: 1_000_000 + 340_000, celsius: 63 }];
    expect(probeHealth(readings)).toMatchObject({
      readings: 6,
      interval_seconds: 10,
      longestGap_seconds: 300,
      longestSame_seconds: 20,
    });
  });

  it('finds the scatter of readings, however steeply they rise', () => {
    const rising = every(repeated(2000, (index) => 20 + index * 0.05 + 0.2 * scatter()));
    const found = probeHealth(rising).noise_celsius ?? 0;
    expect(found / 0.2).toBeGreaterThan(0.9);
    expect(found / 0.2).toBeLessThan(1.1);
    expect(probeHealth(every(repeated(100, (index) => 20 + index * 0.5))).noise_celsius).toBeLessThan(1e-9);
  });

  it('marks single readings that stand out, with what their neighbours suggest', () => {
    const values = repeated(60, (index) => (index === 30 ? 95 : 60 + 0.05 * scatter()));
    const { spikes, jumps } = probeHealth(every(values));
    expect(spikes).toHaveLength(1);
    expect(spikes[0]).toMatchObject({ celsius: 95, at: 1_300_000 });
    expect(spikes[0]?.expected_celsius).toBeCloseTo(60, 0);
    expect(jumps).toEqual([]);
  });

  it('finds a level that jumped and stays, once', () => {
    const values = repeated(60, (index) => (index < 30 ? 60 : 64) + 0.05 * scatter());
    const { spikes, jumps } = probeHealth(every(values));
    expect(jumps.map(({ at }) => at)).toEqual([1_300_000]);
    expect(spikes).toEqual([]);
  });

  it('takes a heater that is switched on for neither spike nor jump', () => {
    const heating = every(repeated(300, (index) => 22 + 50 * (1 - Math.exp(-index / 40))));
    expect(probeHealth(heating)).toMatchObject({ spikes: [], jumps: [] });
  });

  it('is the same for a series that is moved in time, and marks only readings that are there', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -400, max: 4000 }), { maxLength: 60 }),
        fc.nat(10 ** 9),
        (tenths, shift) => {
          const readings = every(tenths.map((value) => value / 10));
          const later = readings.map(({ at, celsius }) => ({ at: at + shift, celsius }));
          const [here, there] = [probeHealth(readings), probeHealth(later)];
          expect(there.noise_celsius).toBe(here.noise_celsius);
          expect(there.spikes.map(({ at }) => at - shift)).toEqual(here.spikes.map(({ at }) => at));
          for (const { at, celsius } of here.spikes)
            expect(readings.some((reading) => reading.at === at && reading.celsius === celsius)).toBe(true);
        },
      ),
    );
  });
});
