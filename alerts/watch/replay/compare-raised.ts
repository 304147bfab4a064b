// What two settings raised on the same past, beside each other.

import { MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { Raised } from './replay.ts';

export type Difference =
  | {
      readonly kind: 'same' | 'earlier' | 'later';
      readonly before: Raised;
      readonly after: Raised;
      /** Minutes from the first to the second; negative when it is earlier. */
      readonly minutes: number;
    }
  | { readonly kind: 'more'; readonly after: Raised }
  | { readonly kind: 'fewer'; readonly before: Raised };

/** Beginnings no further apart are those of one event, though one was over before the other began. */
const ONE_EVENT_MILLIS = MILLIS_PER_HOUR;

const endOf = ({ to }: Raised): number => to ?? Number.POSITIVE_INFINITY;
const isOneEvent = (a: Raised, b: Raised): boolean =>
  Math.abs(a.from - b.from) <= ONE_EVENT_MILLIS || (a.from <= endOf(b) && b.from <= endOf(a));

const pair = (before: Raised, after: Raised): Difference => {
  const minutes = (after.from - before.from) / MILLIS_PER_MINUTE;
  return { kind: minutes === 0 ? 'same' : minutes < 0 ? 'earlier' : 'later', before, after, minutes };
};

const keyOf = ({ rule, subject }: Raised): string => `${subject}.${rule}`;
const beginOf = (difference: Difference): number =>
  difference.kind === 'more' ? difference.after.from : difference.before.from;

/** Each of both once, oldest first; both lists oldest first. Those of one rule at one place that overlap are paired. */
export function compareRaised(before: readonly Raised[], after: readonly Raised[]): readonly Difference[] {
  const keys = [...new Set([...before, ...after].map(keyOf))].sort();
  return keys
    .flatMap((key) =>
      compareAtPoint(
        before.filter((raised) => keyOf(raised) === key),
        after.filter((raised) => keyOf(raised) === key),
      ),
    )
    .sort((a, b) => beginOf(a) - beginOf(b));
}

function compareAtPoint(before: readonly Raised[], after: readonly Raised[]): readonly Difference[] {
  const differences: Difference[] = [];
  let [first, second] = [0, 0];
  for (;;) {
    const [was, would] = [before[first], after[second]];
    if (was === undefined && would === undefined) return differences;
    if (was !== undefined && would !== undefined && isOneEvent(was, would)) {
      differences.push(pair(was, would));
      first += 1;
      second += 1;
    } else if (was !== undefined && (would === undefined || was.from < would.from)) {
      differences.push({ kind: 'fewer', before: was });
      first += 1;
    } else if (would !== undefined) {
      differences.push({ kind: 'more', after: would });
      second += 1;
    }
  }
}

export type DifferenceCounts = Readonly<Record<Difference['kind'], number>>;

export function countDifferences(differences: readonly Difference[]): DifferenceCounts {
  const counts = { same: 0, earlier: 0, later: 0, more: 0, fewer: 0 };
  for (const { kind } of differences) counts[kind] += 1;
  return counts;
}
