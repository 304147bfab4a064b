// Adds rows and figures of hours up into buckets; an extreme is never lost.

import type { EpochMillis } from '../../wax/units.ts';
import type { BucketPlan } from './bucket-width.ts';
import { addendOf, type HourFigures } from './sealed/hour-figures.ts';
import type { SeriesRows } from './sealed/series-rows.ts';
import type { SeriesBucket } from './store.ts';

interface Sums {
  min: number;
  max: number;
  sum: number;
  count: number;
  doubtful: number;
}

export class BucketSums {
  readonly #plan: BucketPlan;
  readonly #byStart = new Map<number, Sums>();

  constructor(plan: BucketPlan) {
    this.#plan = plan;
  }

  #at(instant: number): Sums {
    const { from, width } = this.#plan;
    const start = Math.max(Math.floor(instant / width) * width, from);
    let sums = this.#byStart.get(start);
    if (sums === undefined) {
      sums = { min: Infinity, max: -Infinity, sum: 0, count: 0, doubtful: 0 };
      this.#byStart.set(start, sums);
    }
    return sums;
  }

  addRows({ times, values, qualities }: SeriesRows): void {
    const { width } = this.#plan;
    for (let index = 0; index < times.length; ) {
      const first = times[index] ?? 0;
      const end = (Math.floor(first / width) + 1) * width;
      const sums = this.#at(first);
      for (; index < times.length && (times[index] ?? 0) < end; index += 1) {
        const value = values[index] ?? 0;
        if (value < sums.min) sums.min = value;
        if (value > sums.max) sums.max = value;
        sums.sum += addendOf(value);
        sums.count += 1;
        if (qualities[index] !== 0) sums.doubtful += 1;
      }
    }
  }

  addHour(hour: HourFigures): void {
    const sums = this.#at(hour.start);
    if (hour.min < sums.min) sums.min = hour.min;
    if (hour.max > sums.max) sums.max = hour.max;
    sums.sum += hour.sum;
    sums.count += hour.count;
    sums.doubtful += hour.doubtful;
  }

  /** Oldest first; those without readings are absent. */
  buckets(): readonly SeriesBucket[] {
    return [...this.#byStart]
      .sort(([first], [second]) => first - second)
      .map(([at, { min, max, sum, count, doubtful }]) => ({
        at: at as EpochMillis,
        min,
        max,
        // Rounding of a long sum must not carry the mean of equal values past them.
        mean: Math.min(max, Math.max(min, sum / count)),
        count,
        doubtful,
      }));
  }
}
