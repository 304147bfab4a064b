// What the lab's remakes had in common and what they cost. A factor that stands out is no proof of a cause: with many
// factors some stand out by chance, and the chance is given beside each. Pure.

import type { FitFactors } from './fit-case.ts';

export interface EndedPattern {
  readonly isRemade: boolean;
  readonly factors: FitFactors;
}

export interface CommonFactor {
  readonly name: string;
  readonly value: string;
  /** Remakes and all patterns with this value. */
  readonly remade: number;
  readonly of: number;
  /** Remakes and all patterns where the factor is recorded with another value. */
  readonly otherRemade: number;
  readonly otherOf: number;
  /** Of so many remakes or more among them if the factor did not matter, 0 to 1. */
  readonly chance: number;
}

const logFactorials: number[] = [0];
const logFactorial = (count: number): number => {
  for (let next = logFactorials.length; next <= count; next += 1)
    logFactorials.push((logFactorials[next - 1] ?? 0) + Math.log(next));
  return logFactorials[count] ?? 0;
};
const logChoose = (of: number, count: number): number =>
  logFactorial(of) - logFactorial(count) - logFactorial(of - count);

/**
 * One-sided exact test of Fisher: at least `remade` of `of` where `allRemade` of `all` were remade.
 * @example chanceOf(3, 3, 3, 6) // 0.05
 */
export function chanceOf(remade: number, of: number, allRemade: number, all: number): number {
  let sum = 0;
  for (let count = remade; count <= Math.min(of, allRemade); count += 1)
    sum += Math.exp(
      logChoose(allRemade, count) + logChoose(all - allRemade, of - count) - logChoose(all, of),
    );
  return Math.min(1, sum);
}

/** Fewer remakes with one value prove nothing. */
const LEAST_REMAKES = 2;
/** What more often happens by chance is not shown. Common practice. */
const MOST_CHANCE = 0.2;

/** Values that more of the remakes had than chance would give, the least likely first. */
export function commonFactors(patterns: readonly EndedPattern[]): readonly CommonFactor[] {
  const names = new Set(patterns.flatMap(({ factors }) => Object.keys(factors)));
  return [...names]
    .flatMap((name) => {
      const recorded = patterns.filter(({ factors }) => factors[name] !== undefined);
      const allRemade = recorded.filter(({ isRemade }) => isRemade).length;
      const values = new Set(recorded.map(({ factors }) => factors[name] ?? ''));
      return [...values].map((value): CommonFactor => {
        const having = recorded.filter(({ factors }) => factors[name] === value);
        const remade = having.filter(({ isRemade }) => isRemade).length;
        return {
          name,
          value,
          remade,
          of: having.length,
          otherRemade: allRemade - remade,
          otherOf: recorded.length - having.length,
          chance: chanceOf(remade, having.length, allRemade, recorded.length),
        };
      });
    })
    .filter(({ remade, otherOf, chance }) => remade >= LEAST_REMAKES && otherOf > 0 && chance <= MOST_CHANCE)
    .sort((left, right) => left.chance - right.chance);
}
