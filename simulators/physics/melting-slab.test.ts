import { describe, expect, it } from 'vitest';
import { heatNetwork, type HeatPath } from './heat-network.ts';
import { waxStore } from './wax-store.ts';

// Stefan's problem for wax at its melting point against a hot wall (Carslaw and Jaeger, chapter 11): the front stands
// at 2 lambda sqrt(alpha t), with lambda exp(lambda squared) erf(lambda) = Ste / sqrt(pi).
const SOLIDUS = 60;
const LIQUIDUS = 60.2;
const WALL = 80;
const DENSITY = 800;
const CONDUCTIVITY = 0.2;
/** The store's own figures: 2200 J/(kg K) liquid, and 170 kJ/kg on top of the sensible heat of the range. */
const LIQUID = 2200;
const LATENT = 170_000 + 2500 * (LIQUIDUS - SOLIDUS);

const erf = (x: number): number => {
  let sum = 0;
  let term = x;
  for (let n = 0; n < 40; n += 1) {
    sum += term / (2 * n + 1);
    term *= -(x * x) / (n + 1);
  }
  return (2 / Math.sqrt(Math.PI)) * sum;
};

const stefanRoot = (stefan: number): number => {
  let [low, high] = [0, 3];
  for (let i = 0; i < 60; i += 1) {
    const middle = (low + high) / 2;
    if (middle * Math.exp(middle * middle) * erf(middle) < stefan / Math.sqrt(Math.PI)) low = middle;
    else high = middle;
  }
  return low;
};

describe('a slab of wax at its melting point against a hot wall', () => {
  it('melts by Stefan’s solution: the front within 2 % of 2 lambda sqrt(alpha t), at three instants', () => {
    const count = 80;
    const thickness = 0.02 / count;
    const grams = DENSITY * thickness * 1000;
    const through = CONDUCTIVITY / thickness;
    const paths: HeatPath[] = [{ a: 0, b: count, wattsPerKelvin: 2 * through }];
    for (let i = 1; i < count; i += 1) paths.push({ a: i - 1, b: i, wattsPerKelvin: through });
    const layers = Array.from({ length: count }, () =>
      waxStore(grams, { solidus: SOLIDUS, liquidus: LIQUIDUS }),
    );
    const heat = heatNetwork(
      layers,
      paths,
      [WALL],
      layers.map(() => SOLIDUS),
    );
    const lambda = stefanRoot((LIQUID * (WALL - LIQUIDUS)) / LATENT);
    const alpha = CONDUCTIVITY / (DENSITY * LIQUID);
    const [solid, molten] = [layers[0]?.joulesAt(SOLIDUS) ?? 0, layers[0]?.joulesAt(LIQUIDUS) ?? 0];
    const step = 0.2;
    let seconds = 0;
    for (const until of [600, 1800, 3600]) {
      for (; seconds < until; seconds += step) heat.step(step);
      let front = 0;
      for (let i = 0; i < count; i += 1)
        front += thickness * Math.min(1, Math.max(0, (heat.joules(i) - solid) / (molten - solid)));
      const exact = 2 * lambda * Math.sqrt(alpha * until);
      expect(Math.abs(front / exact - 1)).toBeLessThan(0.02);
    }
  });

  it('erf and the root agree with tables: erf(0.5) is 0.5205, Ste 0.25 gives lambda 0.3401', () => {
    expect(erf(0.5)).toBeCloseTo(0.5205, 4);
    const lambda = stefanRoot(0.25);
    expect(lambda * Math.exp(lambda * lambda) * erf(lambda)).toBeCloseTo(0.25 / Math.sqrt(Math.PI), 6);
    expect(lambda).toBeCloseTo(0.3401, 2);
  });
});
