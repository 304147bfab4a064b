// Which sweeps of a gateway have not arrived, by their numbers: a gap is proven, and closes when the past comes in.

/** Ends included. */
export type MissingSpan = readonly [from: number, to: number];

export interface SequenceRecord {
  /** Whose numbers they are; absent where the gateway does not send it. */
  readonly buffer?: string;
  readonly newest: number;
  /** The lowest that has arrived; absent where it is not known, which counts as 1. */
  readonly first?: number;
  /** In ascending order; the oldest are forgotten beyond `MOST_SPANS`. */
  readonly missing: readonly MissingSpan[];
}

const MOST_SPANS = 200;

/** The part of a span that `arrived` leaves. */
const withoutNumber = ([from, to]: MissingSpan, arrived: number): readonly MissingSpan[] => {
  if (arrived < from || arrived > to) return [[from, to]];
  const before: readonly MissingSpan[] = arrived > from ? [[from, arrived - 1]] : [];
  return arrived < to ? [...before, [arrived + 1, to]] : before;
};

/** The numbers between two that arrived. */
const spanBetween = (lower: number, higher: number): readonly MissingSpan[] =>
  higher > lower + 1 ? [[lower + 1, higher - 1]] : [];

const isMissing = ({ missing }: SequenceRecord, number: number): boolean =>
  missing.some(([from, to]) => number >= from && number <= to);

function withNumber(record: SequenceRecord, number: number): SequenceRecord {
  const { newest, first = 1, missing } = record;
  if (number > newest)
    return {
      ...record,
      newest: number,
      missing: [...missing, ...spanBetween(newest, number)].slice(-MOST_SPANS),
    };
  // What a gateway measured before it was first met: it sends the present before the past.
  if (number < first)
    return {
      ...record,
      first: number,
      missing: [...spanBetween(number, first), ...missing].slice(-MOST_SPANS),
    };
  return isMissing(record, number)
    ? { ...record, missing: missing.flatMap((span) => withoutNumber(span, number)).slice(-MOST_SPANS) }
    : record;
}

const isCountedAnew = (record: SequenceRecord, number: number): boolean =>
  number === 1 && record.buffer === undefined && !isMissing(record, 1);

/**
 * The record with the numbers that arrived. The first number of an unknown gateway begins the count: what it sent
 * before, to whomever, is not known. Numbers of another buffer than before are of a gateway that was set up anew; where
 * no buffer is named, number 1 again is.
 * @example withArrived({ newest: 4, missing: [] }, [7]) // { newest: 7, missing: [[5, 6]] }
 */
export function withArrived(
  before: SequenceRecord | undefined,
  arrived: readonly number[],
  buffer?: string,
): SequenceRecord {
  const isOfAnother = before?.buffer !== undefined && buffer !== undefined && before.buffer !== buffer;
  let record = isOfAnother ? undefined : before;
  for (const number of [...arrived].sort((first, second) => first - second)) {
    record =
      record === undefined || isCountedAnew(record, number)
        ? { newest: number, first: number, missing: [] }
        : withNumber(record, number);
  }
  const counted = record ?? { newest: 0, missing: [] };
  return buffer === undefined ? counted : { ...counted, buffer };
}

export const missingCount = ({ missing }: SequenceRecord): number =>
  missing.reduce((sum, [from, to]) => sum + to - from + 1, 0);
