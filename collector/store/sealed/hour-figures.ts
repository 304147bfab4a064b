// What an hour of a series comes to: the rollup that is beside the readings and may outlive them.

import { crc32 } from 'node:zlib';
import { MILLIS_PER_HOUR } from '../../../wax/units.ts';
import { ByteReader, ByteWriter } from './byte-stream.ts';
import { DamagedReadings, readWhole } from './damaged-readings.ts';
import type { SeriesRows } from './series-rows.ts';
import { readSteps, writeSteps } from './steps.ts';
import { readValues, writeValues } from './values.ts';

export interface HourFigures {
  /** Milliseconds since 1970, a whole hour. */
  readonly start: number;
  readonly count: number;
  /** How many of `count` are not of quality `good`. */
  readonly doubtful: number;
  readonly min: number;
  readonly max: number;
  /** See `added`. */
  readonly sum: number;
  readonly first: number;
  readonly last: number;
}

/** What a reading adds to a sum: a mean stays finite when a broken probe sends 1e308 again and again. */
const MOST_ADDED = 1e12;
export const addendOf = (celsius: number): number => Math.min(celsius, MOST_ADDED);

/** Ascending; hours without readings are absent. */
export function hourFigures({ times, values, qualities }: SeriesRows): readonly HourFigures[] {
  const hours: HourFigures[] = [];
  let from = 0;
  while (from < times.length) {
    const start = Math.floor((times[from] ?? 0) / MILLIS_PER_HOUR) * MILLIS_PER_HOUR;
    let [min, max, sum, doubtful, to] = [Infinity, -Infinity, 0, 0, from];
    for (; to < times.length && (times[to] ?? 0) < start + MILLIS_PER_HOUR; to += 1) {
      const value = values[to] ?? 0;
      if (value < min) min = value;
      if (value > max) max = value;
      sum += addendOf(value);
      if (qualities[to] !== 0) doubtful += 1;
    }
    const [first, last] = [values[from] ?? 0, values[to - 1] ?? 0];
    hours.push({ start, count: to - from, doubtful, min, max, sum, first, last });
    from = to;
  }
  return hours;
}

/** Both together, where the readings of the first are gone; an hour of both is added up. */
export function combineHours(
  before: readonly HourFigures[],
  late: readonly HourFigures[],
): readonly HourFigures[] {
  const hours = new Map(before.map((hour) => [hour.start, hour]));
  for (const hour of late) {
    const old = hours.get(hour.start);
    hours.set(
      hour.start,
      old === undefined
        ? hour
        : {
            ...old,
            count: old.count + hour.count,
            doubtful: old.doubtful + hour.doubtful,
            min: Math.min(old.min, hour.min),
            max: Math.max(old.max, hour.max),
            sum: old.sum + hour.sum,
          },
    );
  }
  return [...hours.values()].sort((first, second) => first.start - second.start);
}

/**
 * The figures of a span that is sealed anew. Where they are of more readings than lay in its packs, some are gone, by
 * retention or damage, and what came since is added to them.
 */
export function hoursSealedAnew(
  before: readonly HourFigures[],
  sealed: SeriesRows,
  all: SeriesRows,
  added: SeriesRows,
): readonly HourFigures[] {
  const counted = new Map(hourFigures(sealed).map(({ start, count }) => [start, count]));
  const ofGone = new Map(
    before.filter(({ start, count }) => count > (counted.get(start) ?? 0)).map((hour) => [hour.start, hour]),
  );
  if (ofGone.size === 0) return hourFigures(all);
  return [
    ...hourFigures(all).filter(({ start }) => !ofGone.has(start)),
    ...combineHours(
      [...ofGone.values()],
      hourFigures(added).filter(({ start }) => ofGone.has(start)),
    ),
  ].sort((first, second) => first.start - second.start);
}

export function encodeHours(hours: readonly HourFigures[]): Uint8Array {
  const out = new ByteWriter();
  const steps = (of: (hour: HourFigures) => number): void => writeSteps(out, Float64Array.from(hours, of));
  out.whole(hours.length);
  steps(({ start }) => start / MILLIS_PER_HOUR);
  steps(({ count }) => count);
  steps(({ doubtful }) => doubtful);
  writeValues(out, Float64Array.from(hours.flatMap(({ min, first, last, max }) => [min, first, last, max])));
  writeValues(
    out,
    Float64Array.from(hours, ({ sum }) => sum),
  );
  out.whole(crc32(out.done()));
  return out.done();
}

/**
 * Those of an earlier version end without a checksum.
 * @throws DamagedReadings where the bytes are not those of figures
 */
export const decodeHours = (bytes: Uint8Array): readonly HourFigures[] => readWhole(() => hoursOf(bytes));

function hoursOf(bytes: Uint8Array): readonly HourFigures[] {
  const input = new ByteReader(bytes);
  const length = input.whole();
  const starts = readSteps(input, length);
  const counts = readSteps(input, length);
  const doubtfuls = readSteps(input, length);
  const extremes = readValues(input);
  const sums = readValues(input);
  const read = bytes.subarray(0, bytes.length - input.rest);
  const isSound = input.rest === 0 || (input.whole() === crc32(read) && input.rest === 0);
  if (!isSound || extremes.length !== 4 * length || sums.length !== length)
    throw new DamagedReadings('the figures do not agree with themselves');
  return Array.from(starts, (start, index) => ({
    start: start * MILLIS_PER_HOUR,
    count: counts[index] ?? 0,
    doubtful: doubtfuls[index] ?? 0,
    min: extremes[4 * index] ?? 0,
    first: extremes[4 * index + 1] ?? 0,
    last: extremes[4 * index + 2] ?? 0,
    max: extremes[4 * index + 3] ?? 0,
    sum: sums[index] ?? 0,
  }));
}
