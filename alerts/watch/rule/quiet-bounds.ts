// Bounds within which rules that do not hold cannot begin to hold, so that they need no evaluation at most readings. A
// rule draws them where it can; they are conservative: what leaves them is evaluated, and may well not hold either.

import type { StationInput } from './rule-input.ts';

/** Each one: what it must stay below, or above. */
export interface DrawnBounds {
  before: number;
  celsiusAbove: number;
  celsiusBelow: number;
  probesAbove: number;
  probesBelow: number;
  meanAbove: number;
  meanBelow: number;
  rateAbove: number;
  rateBelow: number;
  doseHoursBelow: number;
  hotHoursBelow: number;
  spreadBelow: number;
}

/**
 * Drawn by the rules of one station at one evaluation. Each method returns whether the present value lies within the
 * bound, and draws it only then. Temperatures in °C, instants in epoch milliseconds.
 *
 * Besides these bounds, an evaluation is due whenever the activity, the closed cycles, the closed ten minutes, the load,
 * the doors, the plan of people or the settings of the station change: rules may rely on those staying as they are.
 */
export class QuietBounds {
  readonly #input: StationInput;
  /** By themselves: whoever keeps the input with them holds on to the whole state that it is read off. */
  readonly drawn: DrawnBounds = {
    before: Number.POSITIVE_INFINITY,
    celsiusAbove: Number.NEGATIVE_INFINITY,
    celsiusBelow: Number.POSITIVE_INFINITY,
    probesAbove: Number.NEGATIVE_INFINITY,
    probesBelow: Number.POSITIVE_INFINITY,
    meanAbove: Number.NEGATIVE_INFINITY,
    meanBelow: Number.POSITIVE_INFINITY,
    rateAbove: Number.NEGATIVE_INFINITY,
    rateBelow: Number.POSITIVE_INFINITY,
    doseHoursBelow: Number.POSITIVE_INFINITY,
    hotHoursBelow: Number.POSITIVE_INFINITY,
    spreadBelow: Number.POSITIVE_INFINITY,
  };

  constructor(input: StationInput) {
    this.#input = input;
    // Working hours are what they are until the stretch ends.
    if (input.hours.to !== null) this.drawn.before = input.hours.to;
  }

  until(instant: number): boolean {
    if (!(this.#input.at < instant)) return false;
    if (instant < this.drawn.before) this.drawn.before = instant;
    return true;
  }

  above(celsius: number): boolean {
    if (!(this.#input.celsius > celsius)) return false;
    if (celsius > this.drawn.celsiusAbove) this.drawn.celsiusAbove = celsius;
    return true;
  }

  below(celsius: number): boolean {
    if (!(this.#input.celsius < celsius)) return false;
    if (celsius < this.drawn.celsiusBelow) this.drawn.celsiusBelow = celsius;
    return true;
  }

  /** Of the value and of each probe of several. */
  allAbove(celsius: number): boolean {
    const { probes } = this.#input;
    if (!this.above(celsius) || probes.some((probe) => !(probe.celsius > celsius))) return false;
    if (probes.length > 0) this.drawn.probesAbove = Math.max(celsius, this.drawn.probesAbove);
    return true;
  }

  /** The same. */
  allBelow(celsius: number): boolean {
    const { probes } = this.#input;
    if (!this.below(celsius) || probes.some((probe) => !(probe.celsius < celsius))) return false;
    if (probes.length > 0) this.drawn.probesBelow = Math.min(celsius, this.drawn.probesBelow);
    return true;
  }

  /** Of the mean of some minutes. */
  meanBetween(low: number, high: number): boolean {
    const { recent } = this.#input;
    if (recent === null || !(recent.mean > low && recent.mean < high)) return false;
    this.drawn.meanAbove = Math.max(low, this.drawn.meanAbove);
    this.drawn.meanBelow = Math.min(high, this.drawn.meanBelow);
    return true;
  }

  /** Of the slope, kelvins an hour. */
  rateBetween(low: number, high: number): boolean {
    const rate = this.#input.celsiusPerHour;
    if (rate === null || !(rate > low && rate < high)) return false;
    this.drawn.rateAbove = Math.max(low, this.drawn.rateAbove);
    this.drawn.rateBelow = Math.min(high, this.drawn.rateBelow);
    return true;
  }

  /** Of the heat dose of the charge, equivalent hours. */
  doseBelow(hours: number): boolean {
    const { dose } = this.#input;
    if (dose === null || !(dose.hours < hours)) return false;
    this.drawn.doseHoursBelow = Math.min(hours, this.drawn.doseHoursBelow);
    return true;
  }

  /** Of the hours above the melting range since the pot was cleaned. */
  hotBelow(hours: number): boolean {
    if (!(this.#input.hotHoursSinceCleaned < hours)) return false;
    this.drawn.hotHoursBelow = Math.min(hours, this.drawn.hotHoursBelow);
    return true;
  }

  /** Of the difference between the places of a cabinet, kelvins. */
  zonesWithin(kelvins: number): boolean {
    const { doors } = this.#input;
    if (doors === null || !(Math.abs(doors.spread) < kelvins)) return false;
    this.drawn.spreadBelow = Math.min(kelvins, this.drawn.spreadBelow);
    return true;
  }
}
