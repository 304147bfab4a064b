// What every case must be, whatever is laid over it.

import { expect } from 'vitest';
import type { LabelledCase } from '../simulators/cases/case.ts';

/** In degrees Celsius, as they arrived. */
export const readingsOf = ({ probes, readings }: LabelledCase, probe: string): Float64Array => {
  const index = probes.indexOf(probe);
  return readings.celsius.filter((_, place) => readings.probe[place] === index);
};

export const expectSound = (made: LabelledCase): void => {
  const { at, receivedAt, celsius } = made.readings;
  expect(at.length).toBeGreaterThan(1000);
  expect(receivedAt.every((instant, i) => i === 0 || instant >= (receivedAt[i - 1] ?? 0))).toBe(true);
  expect(celsius.every(Number.isFinite)).toBe(true);
  expect(made.stations.flatMap(({ probes }) => probes.map(({ id }) => id)).sort()).toEqual(
    [...made.probes].sort(),
  );
  for (const id of made.probes) expect(readingsOf(made, id).length).toBeGreaterThan(100);
};
