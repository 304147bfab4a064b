import { describe, expect, it } from 'vitest';
import { drawFrom } from '../draw/draw.ts';
import { drawPot } from './draw-pot.ts';

const pots = Array.from({ length: 25 }, (_, seed) => drawPot(drawFrom(seed, 'pot')));

describe('pots drawn by seed', () => {
  it('work as pots: all molten while they cycle, under their ceilings, which full power would pass', () => {
    for (const { design, trial, ceilingCelsius } of pots) {
      expect(trial.valley).toBeGreaterThan(design.melting.liquidus);
      expect(Math.max(trial.firstPeak, trial.peak)).toBeLessThan(ceilingCelsius);
      expect(trial.fullPowerCelsius).toBeGreaterThan(ceilingCelsius + 15);
    }
  });

  it('differ in size by more than five times, in warm-up by more than two, and in set point by more than 15 K', () => {
    const spread = (values: readonly number[]) => [Math.min(...values), Math.max(...values)] as const;
    const [light, heavy] = spread(pots.map(({ design }) => design.waxGrams));
    const [fast, slow] = spread(pots.map(({ trial }) => trial.setSeconds));
    const [cool, hot] = spread(pots.map(({ setCelsius }) => setCelsius));
    expect(heavy / light).toBeGreaterThan(5);
    expect(slow / fast).toBeGreaterThan(2);
    expect(hot - cool).toBeGreaterThan(15);
  });

  it('are switched on and off in most, with periods from 2 to 30 minutes, and in proportion in others', () => {
    const periods = pots
      .filter(({ control }) => control === 'on-off')
      .map(({ trial }) => trial.periodSeconds);
    expect(periods.length).toBeGreaterThan(12);
    expect(periods.length).toBeLessThan(25);
    expect(Math.min(...periods)).toBeGreaterThanOrEqual(120);
    expect(Math.max(...periods)).toBeLessThanOrEqual(1800);
  });
});
