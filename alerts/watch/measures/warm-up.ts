// How long a heater takes from cold to its window, and how that compares with what it used to take: little wax
// warms fast.

import type { Activity } from './activity.ts';

/** Plain JSON. */
export interface WarmUp {
  readonly seconds: number;
  readonly usualSeconds: number;
  /** Warm-ups that the usual one rests on. */
  readonly learned: number;
}

/** A new warm-up weighs this much against the usual one. */
const GAIN = 0.25;
/** A warm-up this much shorter than usual is not learned from: it is what the rule looks for. */
const LEARN_FROM_SHARE = 0.75;

export function warmUpStep(
  warmUp: WarmUp | null,
  before: Activity | null,
  now: Activity,
  at: number,
): WarmUp | null {
  if (before?.kind !== 'warming' || now.kind !== 'hot') return warmUp;
  const seconds = (at - before.since) / 1000;
  if (seconds <= 0) return warmUp;
  if (warmUp === null) return { seconds, usualSeconds: seconds, learned: 1 };
  if (seconds < LEARN_FROM_SHARE * warmUp.usualSeconds && warmUp.learned >= 3) return { ...warmUp, seconds };
  const usualSeconds = warmUp.usualSeconds + GAIN * (seconds - warmUp.usualSeconds);
  return { seconds, usualSeconds, learned: warmUp.learned + 1 };
}
