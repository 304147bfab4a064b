// The way through a long span of one series: slices of at most a day, oldest first, each a sealed span or a stretch of
// fresh readings. Between slices others get their turn, so that no question about years holds up a live reading.

import { setImmediate as othersTurn } from 'node:timers/promises';
import { MILLIS_PER_DAY } from '../../wax/units.ts';
import type { SealedSpan, SeriesRowsReader } from './series-rows-reader.ts';

export interface SeriesSlice {
  readonly from: number;
  /** Exclusive. */
  readonly to: number;
  /** What covers the slice; null when only fresh readings do. */
  readonly sealed: SealedSpan | null;
  readonly hasFresh: boolean;
}

const SPANS_AT_ONCE = 64;
/** After this long others get their turn. */
const TURN_MILLIS = 8;

/** Each slice must be read before the next one is fetched: only then is it one look at the database. */
export async function* seriesSlices(
  reader: SeriesRowsReader,
  series: number,
  { from, to }: { readonly from: number; readonly to: number },
): AsyncGenerator<SeriesSlice> {
  let spans: readonly SealedSpan[] = [];
  let [at, since] = [from, performance.now()];
  let isLast = false;
  while (at < to) {
    if (performance.now() - since > TURN_MILLIS) {
      await othersTurn();
      // What was sealed meanwhile is looked up again.
      [spans, isLast, since] = [[], false, performance.now()];
    }
    if (spans.length === 0 && !isLast) {
      spans = reader.sealedSpans(series, at, to, SPANS_AT_ONCE);
      isLast = spans.length < SPANS_AT_ONCE;
    }
    const [next = null] = spans;
    const fresh = reader.firstFresh(series, at);
    const freshAt = fresh === null || fresh >= to ? null : fresh;
    if (next !== null && (freshAt === null || next.start <= freshAt)) {
      const slice = { from: Math.max(at, next.start), to: Math.min(next.end, to) };
      yield { ...slice, sealed: next, hasFresh: freshAt !== null && freshAt < slice.to };
      spans = spans.slice(1);
      at = slice.to;
    } else if (freshAt !== null) {
      const dayEnd = (Math.floor(freshAt / MILLIS_PER_DAY) + 1) * MILLIS_PER_DAY;
      const end = Math.min(next?.start ?? to, dayEnd, to);
      yield { from: freshAt, to: end, sealed: null, hasFresh: true };
      at = end;
    } else return;
  }
}
