// Which sweeps of a gateway have not arrived, by their numbers: a gap is proven, and closes when the past comes in.

/** Ends included. */
export type MissingSpan = readonly [from: number, to: number];

export interface SequenceRecord {
  readonly newest: number;
  /** The lowest that has arrived; absent where it is not known, which counts as 1. */
  readonly first?: number;
  /** In ascending order; the oldest are forgotten beyond `MOST_SPANS`. */
  readonly missing: readonly MissingSpan[];
}

const MOST_SPANS = 200;

/** The part of a span that `arrived` leaves. */
const without = ([from, to]: MissingSpan, arrived: number): readonly MissingSpan[] => {
  if (arrived < from || arrived > to) return [[from, to]];
  const before: readonly MissingSpan[] = arrived > from ? [[from, arrived - 1]] : [];
  return arrived < to ? [...before, [arrived + 1, to]] : before;
};

/**
 * The record with the numbers that arrived. The first number of an unknown gateway begins the count: what it sent
 * before is not known, and may still come: a gateway sends the present before the past. Number 1 again is a gateway that
 * was set up anew.
 * @example withArrived({ newest: 4, missing: [] }, [7]) // { newest: 7, missing: [[5, 6]] }
 */
export function withArrived(before: SequenceRecord | undefined, arrived: readonly number[]): SequenceRecord {
  let record = before;
  // The past of a gateway that was first met in its present ends where that began.
  const isPast = before?.first !== undefined && arrived.includes(1) && arrived.includes(before.first - 1);
  for (const number of [...arrived].sort((first, second) => first - second)) {
    if (record === undefined) record = { newest: number, first: number, missing: [] };
    else if (isPast && number < (record.first ?? 1)) record = { ...record, first: 1 };
    else if (number === 1 && !isMissing(record, 1)) record = { newest: 1, first: 1, missing: [] };
    else if (number > record.newest) {
      const gap: readonly MissingSpan[] = number > record.newest + 1 ? [[record.newest + 1, number - 1]] : [];
      record = { ...record, newest: number, missing: [...record.missing, ...gap].slice(-MOST_SPANS) };
    } else if (isMissing(record, number))
      record = {
        ...record,
        missing: record.missing.flatMap((span) => without(span, number)).slice(-MOST_SPANS),
      };
  }
  return record ?? { newest: 0, missing: [] };
}

const isMissing = ({ missing }: SequenceRecord, number: number): boolean =>
  missing.some(([from, to]) => number >= from && number <= to);

export const missingCount = ({ missing }: SequenceRecord): number =>
  missing.reduce((sum, [from, to]) => sum + to - from + 1, 0);
