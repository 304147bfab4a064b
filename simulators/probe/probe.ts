// A simulated temperature probe: it feels late, it is a little noisy, and it answers in steps.

import { randomLcg, randomNormal } from 'd3-random';
import { applyLag } from '../physics/thermostat.ts';

export interface ProbeDesign {
  readonly id: string;
  readonly station: string;
  /** Where in the station it sits. */
  readonly spot: string;
  readonly lagSeconds: number;
  /** Standard deviation. */
  readonly noiseCelsius: number;
  /** Step of its answer; 0.0625 for a common 12-bit digital probe, 0 for none. */
  readonly stepCelsius: number;
}

export interface SimulatedProbe {
  readonly design: ProbeDesign;
  /** Time passes at a true temperature. */
  readonly feel: (celsius: number, seconds: number) => void;
  readonly answer: () => number;
}

const hash = (text: string): number => {
  let value = 2166136261;
  for (const character of text) value = Math.imul(value ^ (character.codePointAt(0) ?? 0), 16777619);
  return value >>> 0;
};

/** A source of numbers from 0 to 1 of its own for every name, the same for the same seed. */
export const seededSource = (seed: number, name: string): (() => number) =>
  randomLcg(hash(`${seed}/${name}`) / 2 ** 32);

export const simulatedProbe = (design: ProbeDesign, startCelsius: number, seed: number): SimulatedProbe => {
  const normal = randomNormal.source(seededSource(seed, design.id))(0, 1);
  const step = design.stepCelsius;
  let felt = startCelsius;
  return {
    design,
    feel: (celsius, seconds) => {
      felt = applyLag(felt, celsius, design.lagSeconds, seconds);
    },
    answer: () => {
      const value = felt + normal() * design.noiseCelsius;
      const stepped = step > 0 ? Math.round(value / step) * step : value;
      return Math.round(stepped * 10_000) / 10_000;
    },
  };
};
