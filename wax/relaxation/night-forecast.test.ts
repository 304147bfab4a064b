import { describe, expect, it } from 'vitest';
import { nightForecast } from './night-forecast.ts';
import { epochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../units.ts';

const shelf = (at: number, warmer = 0) => 21 + 3 * Math.sin((2 * Math.PI * at) / MILLIS_PER_DAY) + warmer;
const history = (days: number, warmerToday = 0) =>
  Array.from({ length: days * 144 + 1 }, (_, index) => {
    const at = index * 10 * MILLIS_PER_MINUTE;
    return { at, celsius: shelf(at, at > (days - 1) * MILLIS_PER_DAY ? warmerToday : 0) };
  });

describe('The forecast of the coming night', () => {
  it('repeats a place that does the same every day', () => {
    const end = epochMillis(4 * MILLIS_PER_DAY + 12 * MILLIS_PER_HOUR);
    const forecast = nightForecast(history(4), end);
    expect(forecast.ok && forecast.value.at(-1)?.at).toBe(end);
    if (!forecast.ok) return;
    for (const { at, celsius } of forecast.value) expect(Math.abs(celsius - shelf(at))).toBeLessThan(0.02);
  });

  it('starts as warm as it is now and comes back to what is usual', () => {
    const forecast = nightForecast(history(5, 2), epochMillis(6 * MILLIS_PER_DAY));
    if (!forecast.ok) throw new Error(forecast.problem.code);
    const [first, last] = [forecast.value[0], forecast.value.at(-1)];
    if (!first || !last) throw new Error('no points');
    expect(first.celsius - shelf(first.at)).toBeGreaterThan(1.8);
    expect(Math.abs(last.celsius - shelf(last.at))).toBeLessThan(0.05);
  });

  it('is refused, not invented, while no day before covers the time', () => {
    const forecast = nightForecast(history(1).slice(0, 50), epochMillis(MILLIS_PER_DAY));
    expect(!forecast.ok && forecast.problem.code).toBe('no-day-to-compare');
    const nothing = nightForecast([], epochMillis(0));
    expect(!nothing.ok && nothing.problem.code).toBe('series-empty');
  });

  it('does not read a temperature out of a gap', () => {
    const hole = (at: number) => at > 0.5 * MILLIS_PER_DAY && at < 0.7 * MILLIS_PER_DAY;
    const holed = history(1).filter(({ at }) => !hole(at));
    const forecast = nightForecast(holed, epochMillis(1.6 * MILLIS_PER_DAY));
    expect(!forecast.ok && forecast.problem.code).toBe('no-day-to-compare');
  });
});
