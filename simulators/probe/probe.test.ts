import { describe, expect, it } from 'vitest';
import { type ProbeDesign, simulatedProbe } from './probe.ts';

const plain: ProbeDesign = {
  id: 'p',
  station: 's',
  spot: 'air',
  lagSeconds: 0,
  noiseCelsius: 0,
  stepCelsius: 0,
};

const answers = (design: ProbeDesign, seed: number, count: number): number[] => {
  const probe = simulatedProbe(design, 60, seed);
  return Array.from({ length: count }, () => probe.answer());
};

describe('a simulated probe', () => {
  it('has felt 63.2 % of a step after one lag', () => {
    const probe = simulatedProbe({ ...plain, lagSeconds: 20 }, 0, 1);
    for (let i = 0; i < 20; i += 1) probe.feel(100, 1);
    expect(probe.answer()).toBeCloseTo(63.212, 3);
  });

  it('answers in steps of a sixteenth of a degree when it is digital', () => {
    for (const value of answers({ ...plain, noiseCelsius: 0.5, stepCelsius: 0.0625 }, 1, 200))
      expect(Number.isInteger(value * 16)).toBe(true);
  });

  it('scatters by its noise, without bias', () => {
    const values = answers({ ...plain, noiseCelsius: 0.2 }, 3, 4000);
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
    expect(mean).toBeCloseTo(60, 1);
    expect(Math.sqrt(variance)).toBeCloseTo(0.2, 1);
  });

  it('answers the same for the same seed and otherwise for another', () => {
    const noisy = { ...plain, noiseCelsius: 1 };
    expect(answers(noisy, 5, 20)).toEqual(answers(noisy, 5, 20));
    expect(answers(noisy, 5, 20)).not.toEqual(answers(noisy, 6, 20));
  });
});
