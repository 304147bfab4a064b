import { describe, expect, it } from 'vitest';
import { type Sinking, sinkingStep } from './sinking.ts';
import { TEN_MINUTES_MILLIS, type TenMinutes } from './ten-minutes.ts';

/** Ten minutes in which it swings by 2 K about `celsius`. */
const about = (celsius: number, index: number): TenMinutes => ({
  at: index * TEN_MINUTES_MILLIS,
  low: celsius - 1,
  high: celsius + 1,
  sum: 60 * celsius,
  count: 60,
});
const sinkingAfter = (celsius: readonly number[], from: Sinking | null = null, at = 0): Sinking | null =>
  celsius.reduce<Sinking | null>(
    (sinking, mean, index) => sinkingStep(sinking, about(mean, at + index), 0),
    from,
  );
const steady = (count: number, celsius = 90): readonly number[] =>
  Array.from({ length: count }, () => celsius);

describe('how far a pot is below its usual temperature', () => {
  it('is not known before seventy minutes in a row', () => {
    expect(sinkingAfter(steady(6))?.sunk).toBeNull();
    expect(sinkingAfter(steady(7))?.sunk).toBeCloseTo(0, 9);
    expect(sinkingAfter(steady(5), sinkingAfter(steady(5)), 9)?.sunk).toBeNull();
  });
  it('is that of the second highest of seven stretches, so that work with rests in between is nothing', () => {
    const usual = sinkingAfter(steady(30));
    expect(sinkingAfter([89, 90, 88, 88, 90, 89, 88], usual, 30)?.sunk).toBeCloseTo(0, 1);
    const sunk = sinkingAfter(steady(7, 89), usual, 30)?.sunk ?? Number.NaN;
    expect(sunk).toBeGreaterThan(0.85);
    expect(sunk).toBeLessThanOrEqual(1);
  });
  it('is not judged while a heater that was switched off cools, nor while it warms up again', () => {
    const usual = sinkingAfter(steady(30));
    const cooling = [89, 86, 82, 78, 74];
    expect(sinkingAfter(cooling, usual, 30)?.sunk).toBeNull();
    expect(sinkingAfter([...cooling, 80, 86, 90, 90, 90], usual, 30)?.sunk).toBeNull();
    expect(sinkingAfter(cooling, usual, 30)?.usual).toBeCloseTo(90, 1);
  });
  it('is nothing again some days after its set point was turned down', () => {
    const usual = sinkingAfter(steady(60));
    const hours = sinkingAfter(steady(18, 88), usual, 60);
    expect(hours?.sunk).toBeGreaterThan(1.7);
    const days = sinkingAfter(steady(400, 88), usual, 60);
    expect(days?.sunk).toBeLessThan(0.5);
  });
});
