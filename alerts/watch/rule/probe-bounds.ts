// Bounds within which the rules of a probe that do not hold cannot begin to hold, as those of a station are
// (quiet-bounds.ts).

import type { ProbeInput } from './rule-input.ts';

/** Each one: what it must stay below. */
export interface DrawnProbeBounds {
  before: number;
  roughnessBelow: number;
  sameReadingsBelow: number;
}

/**
 * Drawn by the rules of one probe at one evaluation. Each method returns whether the present reading lies within the
 * bound, and draws it only then.
 *
 * Besides these bounds, an evaluation is due whenever a step or a spike is new, or the settings change.
 */
export class ProbeBounds {
  readonly #input: ProbeInput;
  /** By themselves, as those of a station are. */
  readonly drawn: DrawnProbeBounds = {
    before: Number.POSITIVE_INFINITY,
    roughnessBelow: Number.POSITIVE_INFINITY,
    sameReadingsBelow: Number.POSITIVE_INFINITY,
  };

  constructor(input: ProbeInput) {
    this.#input = input;
  }

  until(instant: number): boolean {
    if (!(this.#input.at < instant)) return false;
    this.drawn.before = Math.min(instant, this.drawn.before);
    return true;
  }

  /** Of the variance of one reading, K². */
  smootherThan(roughness: number): boolean {
    if (!(this.#input.signal.roughness < roughness)) return false;
    this.drawn.roughnessBelow = Math.min(roughness, this.drawn.roughnessBelow);
    return true;
  }

  /** Of readings in a row with exactly the same value. */
  fewerAlikeThan(readings: number): boolean {
    if (!(this.#input.signal.sameReadings < readings)) return false;
    this.drawn.sameReadingsBelow = Math.min(readings, this.drawn.sameReadingsBelow);
    return true;
  }
}
