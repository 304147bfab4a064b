// What a replay prints: a line for each alarm, and one for the whole.

import type { Difference, DifferenceCounts } from '../../alerts/watch/replay/compare-raised.ts';
import type { Raised } from '../../alerts/watch/replay/replay.ts';
import { iso, isoOrNull } from '../../wax/iso.ts';

export type ReplayFormat = 'text' | 'json';

interface ReplayTotal {
  /** First and last entry, epoch milliseconds; null where there was none. */
  readonly begins: number | null;
  readonly ends: number | null;
  readonly readings: number;
  readonly acts: number;
  readonly raised: number;
}

interface Beside extends DifferenceCounts {
  /** The other lab file, or `recorded`. */
  readonly beside: string;
  readonly raised: number;
}

const STILL = 'still so';

const inText = ({ from, rule, subject, to }: Raised): string =>
  [iso(from), (to === null ? STILL : iso(to)).padEnd(24), rule.padEnd(18), subject].join('  ');
const inJson = ({ from, rule, subject, to }: Raised) => ({
  rule,
  subject,
  from: iso(from),
  to: isoOrNull(to),
});

export const raisedLine = (raised: Raised, format: ReplayFormat): string =>
  format === 'json' ? JSON.stringify({ kind: 'raised', ...inJson(raised) }) : inText(raised);

const minutesText = (minutes: number): string => `${Math.abs(minutes).toFixed(1)} min`;

export function differenceLine(difference: Difference, format: ReplayFormat): string {
  const { kind } = difference;
  if (format === 'json')
    return JSON.stringify({
      kind,
      ...('minutes' in difference && { minutes: difference.minutes }),
      ...('before' in difference && { before: inJson(difference.before) }),
      ...('after' in difference && { after: inJson(difference.after) }),
    });
  const amount = kind === 'earlier' || kind === 'later' ? ` by ${minutesText(difference.minutes)}` : '';
  const shown = kind === 'fewer' ? difference.before : difference.after;
  return `${`${kind}${amount}`.padEnd(20)}  ${inText(shown)}`;
}

export function totalLine(total: ReplayTotal, compared: Beside | null, format: ReplayFormat): string {
  const { acts, begins, ends, raised, readings } = total;
  if (format === 'json')
    return JSON.stringify({
      kind: 'total',
      from: isoOrNull(begins),
      to: isoOrNull(ends),
      readings,
      acts,
      raised,
      ...(compared !== null && { beside: compared }),
    });
  if (begins === null || ends === null) return 'There are no readings in that span.';
  const replayed = `${readings} readings and ${acts} acts from ${iso(begins)} to ${iso(ends)}: ${raised} raised`;
  if (compared === null) return replayed;
  const { beside, earlier, fewer, later, more, same } = compared;
  return `${replayed}; ${beside}: ${compared.raised}, of which ${same} the same, ${earlier} earlier, ${later} later, ${more} more; ${fewer} fewer`;
}
