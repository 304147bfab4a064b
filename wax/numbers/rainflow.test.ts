import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Cycle,
  MOST_TURNING_POINTS,
  rainflow,
  rainflowResidue,
  rainflowStart,
  rainflowStep,
} from './rainflow.ts';

const temperatures = fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 1, maxLength: 80 });

const cyclesOf = (values: readonly number[]): readonly Cycle[] => {
  const result = rainflow(values);
  if (!result.ok) throw new Error(result.problem.code);
  return result.value;
};

const turningPoints = (values: readonly number[]): number => {
  const moved = values.filter((value, index) => index === 0 || value !== values[index - 1]);
  const turns = moved.filter((value, index) => {
    const [before, after] = [moved[index - 1], moved[index + 1]];
    return before === undefined || after === undefined || (value - before) * (after - value) < 0;
  });
  return turns.length;
};

describe('Rainflow counting', () => {
  it('conserves the turning points: their number less one is the number of half cycles', () => {
    fc.assert(
      fc.property(temperatures, (values) => {
        const halves = cyclesOf(values).reduce((sum, { count }) => sum + 2 * count, 0);
        expect(halves).toBe(turningPoints(values) - 1);
      }),
    );
  });

  it('conserves the path: the ranges of all half cycles add up to the way the temperature went', () => {
    fc.assert(
      fc.property(temperatures, (values) => {
        const path = values.reduce(
          (sum, value, index) => sum + Math.abs(value - (values[index - 1] ?? value)),
          0,
        );
        expect(cyclesOf(values).reduce((sum, { range, count }) => sum + 2 * count * range, 0)).toBe(path);
      }),
    );
  });

  it('ignores repeated values and values on the way', () => {
    fc.assert(
      fc.property(temperatures, (values) => {
        const slower = values.flatMap((value, index) => [
          ((values[index - 1] ?? value) + value) / 2,
          value,
          value,
        ]);
        expect(cyclesOf(slower)).toEqual(cyclesOf(values));
      }),
    );
  });

  it('finds the whole range of the history as its largest swing', () => {
    fc.assert(
      fc.property(temperatures, (values) => {
        fc.pre(new Set(values).size > 1);
        const largest = Math.max(...cyclesOf(values).map(({ range }) => range));
        expect(largest).toBe(Math.max(...values) - Math.min(...values));
      }),
    );
  });

  it('counts the same streamed, with its state kept as JSON in between, as all at once', () => {
    fc.assert(
      fc.property(temperatures, (values) => {
        let state = rainflowStart();
        const cycles: Cycle[] = [];
        for (const value of values) {
          const next = rainflowStep(state, value);
          cycles.push(...next.cycles);
          state = JSON.parse(JSON.stringify(next.state));
        }
        expect([...cycles, ...rainflowResidue(state)]).toEqual(cyclesOf(values));
      }),
    );
  });

  it('leaves the state it was given as it was', () => {
    const state = rainflowStep(rainflowStep(rainflowStart(), 1).state, 5).state;
    const before = JSON.stringify(state);
    rainflowStep(state, 2);
    rainflowResidue(state);
    expect(JSON.stringify(state)).toBe(before);
  });

  it('keeps bounded memory under a swing that dies away for ever, and reports what it had to count early', () => {
    let state = rainflowStart();
    let halves = 0;
    const values = 5000;
    for (let index = 0; index < values; index += 1) {
      const next = rainflowStep(state, (index % 2 === 0 ? 1 : -1) * (values - index));
      halves += next.cycles.reduce((sum, { count }) => sum + 2 * count, 0);
      state = next.state;
    }
    expect(state.points.length).toBeLessThanOrEqual(MOST_TURNING_POINTS);
    expect(state.forced).toBeGreaterThan(0);
    halves += rainflowResidue(state).reduce((sum, { count }) => sum + 2 * count, 0);
    expect(halves).toBe(values - 1);
  });

  it('finds nothing in a steady history', () => {
    expect(cyclesOf([21, 21, 21])).toEqual([]);
  });

  it('refuses an empty history and a value that is no number, with the reason', () => {
    const code = (values: readonly number[]) => {
      const result = rainflow(values);
      return result.ok ? 'accepted' : result.problem.code;
    };
    expect(code([])).toBe('series-empty');
    expect(code([1, Number.NaN])).toBe('not-a-number');
    expect(rainflowStep(rainflowStart(), Number.NaN).state).toEqual({ ...rainflowStart(), refused: 1 });
  });
});
