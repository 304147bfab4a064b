import { describe, expect, it } from 'vitest';
import type { HeatCycle } from './heater-band.ts';
import { type Quickening, quickeningStep } from './quickening.ts';

const MINUTE = 60_000;
/** Cycles of eight minutes; each is as wide as given, in kelvins, with the same rise and fall. */
const cyclesOf = (widths: readonly number[]) =>
  widths.map(
    (width, index): HeatCycle => ({
      at: 1.8e12 + index * 8 * MINUTE,
      riseSeconds: 180,
      fallSeconds: 300,
      low: 70,
      high: 70 + width,
      disturbed: false,
    }),
  );
/** After each cycle, with as many known as the watch keeps. */
const stepsOf = (cycles: readonly HeatCycle[]): Quickening[] => {
  const steps: Quickening[] = [];
  for (let end = 1; end <= cycles.length; end += 1)
    steps.push(quickeningStep(steps.at(-1), cycles.slice(Math.max(0, end - 16), end)));
  return steps;
};
const even = Array.from({ length: 20 }, (_, index) => 2.8 + 0.05 * (index % 2));
const line = Array.from({ length: 14 }, (_, index) => 2.85 * 1.04 ** (index + 1));
const quickens = (cycles: readonly HeatCycle[]): boolean => stepsOf(cycles).some(({ by }) => by > 0);

describe('a pot whose cycles grow by four per cent each', () => {
  it('quickens, by how much faster the newest cycles are than those before', () => {
    expect(Math.exp(stepsOf(cyclesOf([...even, ...line])).at(-1)?.by ?? 0)).toBeGreaterThan(1.3);
  });
  it('does not quicken before it is known how fast its cycles were', () => {
    expect(quickens(cyclesOf(line))).toBe(false);
  });
  it('does not quicken once its cycles are as they were', () => {
    expect(stepsOf(cyclesOf([...even, ...line, ...even])).at(-1)?.by).toBe(0);
  });
});

describe('a pot that does not quicken', () => {
  it('cycles evenly', () => {
    expect(quickens(cyclesOf([...even, ...even]))).toBe(false);
  });
  it('has four wide cycles among even ones, as cold wax makes them', () => {
    expect(quickens(cyclesOf([...even, 5, 5, 5, 5, ...even]))).toBe(false);
  });
  it('comes back to a pace that it had before', () => {
    const slow = Array.from({ length: 14 }, (_, index) => 1.7 + 0.01 * (index % 2));
    const back = Array.from({ length: 14 }, (_, index) => 1.7 * 1.035 ** (index + 1));
    expect(quickens(cyclesOf([...even, ...slow, ...back]))).toBe(false);
  });
});

it('what is remembered of slow cycles means the same after it was stored as JSON', () => {
  const cycles = cyclesOf([...even, ...line].map((width) => width / 5));
  const stored = cycles.reduce<Quickening | undefined>((before, _, index) => {
    const after = quickeningStep(before, cycles.slice(Math.max(0, index - 15), index + 1));
    return JSON.parse(JSON.stringify(after)) as Quickening;
  }, undefined);
  expect(stored).toEqual(stepsOf(cycles).at(-1));
  expect(stored?.by).toBeGreaterThan(0);
});
