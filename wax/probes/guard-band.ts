// Decisions at a limit under uncertainty: inside, outside, or too close to decide. The guard band is the distance from
// the limit that keeps the risk of a wrong "inside" (or of a false alarm) below what was accepted.
// Source: JCGM 106:2012, clause 8.3 (normal measurement error, flat prior); decision rule form of ISO 14253-1; from memory.

import { normalProbability, normalQuantile } from '../numbers/normal-distribution.ts';
import { isTemperature, isWithin, rowOf } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';

export type GuardedVerdict = 'inside' | 'too-close' | 'outside';

export interface GuardedDecision {
  readonly verdict: GuardedVerdict;
  /** Kelvins kept from the limit. */
  readonly guard: number;
  /** Probability that the true value lies beyond the limit. */
  readonly chanceBeyond: number;
}

export interface GuardedLimit {
  readonly limit: number;
  /** `most`: the value must not be above it; `least`: not below it. */
  readonly side: 'most' | 'least';
  /** Expanded uncertainty of the probe (k = 2), kelvins. */
  readonly uncertainty: number;
  /** Accepted chance of a wrong verdict, above 0 and at most 0.5; 0.05 if not given. */
  readonly risk?: number;
}

const SIGN = { most: 1, least: -1 } as const;

/** Judges a reading against a limit; with an uncertainty of 0 there is no "too close". */
export function guardedDecision(celsius: number, limit: GuardedLimit): Result<GuardedDecision> {
  const { uncertainty, risk = 0.05 } = limit;
  if (!isTemperature(celsius) || !isTemperature(limit.limit))
    return failure('not-a-temperature', {}, `${celsius}, ${limit.limit}`);
  if (!isWithin(uncertainty, 0)) return failure('bad-uncertainty', {}, uncertainty);
  if (!isWithin(risk, Number.MIN_VALUE, 0.5)) return failure('bad-risk', {}, risk);
  const beyond = rowOf(SIGN, limit.side, 'side of a limit') * (celsius - limit.limit);
  const standard = uncertainty / 2;
  const guard = standard === 0 ? 0 : standard * normalQuantile(1 - risk);
  const chanceBeyond = standard === 0 ? (beyond > 0 ? 1 : 0) : normalProbability(beyond / standard);
  const verdict = beyond > guard ? 'outside' : beyond <= -guard ? 'inside' : 'too-close';
  return success({ verdict, guard, chanceBeyond });
}
