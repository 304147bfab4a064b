// Numbers drawn by seed: the same seed and name give the same numbers, whatever else is drawn beside them.

import { randomLcg, randomNormal } from 'd3-random';
import { seededSource } from '../probe/probe.ts';

export interface Draw {
  /** From 0 to 1. */
  readonly source: () => number;
  readonly uniform: (from: number, to: number) => number;
  /** As likely between 1 and 2 as between 2 and 4. */
  readonly logUniform: (from: number, to: number) => number;
  /** Whole, both ends included. */
  readonly whole: (from: number, to: number) => number;
  readonly chance: (share: number) => boolean;
  readonly pick: <T>(from: readonly [T, ...T[]]) => T;
  readonly normal: () => number;
  /** A stream of its own by name, so that one more number here changes nothing there. */
  readonly branch: (name: string) => Draw;
}

export const drawFrom = (seed: number, name: string): Draw => {
  // The first numbers of a linear congruential generator are alike for neighbouring seeds.
  const source = seededSource(seed, name);
  for (let i = 0; i < 8; i += 1) source();
  const normal = randomNormal.source(randomLcg(source()))(0, 1);
  const uniform = (from: number, to: number) => from + (to - from) * source();
  return {
    source,
    uniform,
    logUniform: (from, to) => Math.exp(uniform(Math.log(from), Math.log(to))),
    whole: (from, to) => Math.min(to, Math.floor(uniform(from, to + 1))),
    chance: (share) => source() < share,
    pick: (list) => list[Math.min(list.length - 1, Math.floor(source() * list.length))] ?? list[0],
    normal,
    branch: (child) => drawFrom(seed, `${name}/${child}`),
  };
};

/** To the nearest multiple of `step`, without the dust of binary fractions. */
export const roundTo = (value: number, step: number): number =>
  Math.round(Math.round(value / step) * step * 1e6) / 1e6;
