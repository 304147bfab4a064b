// Which days a record of evidence is about, and in which steps it is told apart. Days are those of the lab's zone, so a
// day on which clocks change is an hour longer or shorter. Pure.

import { Temporal } from 'temporal-polyfill';
import type { Site } from '../../../lab/lab.ts';
import { type EpochMillis, epochMillis } from '../../../wax/units.ts';

/** Above so many days the steps are months: a page must stay readable. */
const MOST_DAY_STEPS = 31;
export const MOST_EVIDENCE_DAYS = 366;

export interface Step {
  readonly from: EpochMillis;
  /** Exclusive. */
  readonly to: EpochMillis;
}

export interface EvidenceSpan extends Step {
  readonly step: 'day' | 'month';
  readonly steps: readonly Step[];
}

/**
 * Both days belong to the span, the last no earlier than the first; what lies ahead of `now` does not.
 * @throws RangeError for text that is no day
 */
export function evidenceSpan(
  site: Site,
  firstDay: string,
  lastDay: string,
  now: EpochMillis,
): EvidenceSpan | 'too-long' | 'ahead' {
  const first = Temporal.PlainDate.from(firstDay);
  const end = Temporal.PlainDate.from(lastDay).add({ days: 1 });
  const start = (day: Temporal.PlainDate): EpochMillis =>
    epochMillis(day.toZonedDateTime({ timeZone: site.timeZone }).epochMilliseconds);
  const days = first.until(end, { largestUnit: 'days' }).days;
  if (days > MOST_EVIDENCE_DAYS) return 'too-long';
  if (start(first) >= now) return 'ahead';
  const step = days > MOST_DAY_STEPS ? 'month' : 'day';
  const next = (day: Temporal.PlainDate): Temporal.PlainDate =>
    step === 'day' ? day.add({ days: 1 }) : day.with({ day: 1 }).add({ months: 1 });
  const steps: Step[] = [];
  const to = epochMillis(Math.min(start(end), now));
  for (let day = first; Temporal.PlainDate.compare(day, end) < 0; day = next(day)) {
    const after = next(day);
    const last = Temporal.PlainDate.compare(after, end) < 0 ? after : end;
    const part = { from: start(day), to: epochMillis(Math.min(start(last), to)) };
    if (part.from < part.to) steps.push(part);
  }
  return { from: start(first), to, step, steps };
}
