// Whether an instant from a gateway's clock can be believed. A clock that runs ahead is the dangerous one: its
// reading would make every later true one look late, so it never enters with that instant.

import { failure, type Problem, problem, type Result, success } from '../../wax/result.ts';
import {
  type EpochMillis,
  epochMillis,
  MILLIS_PER_DAY,
  MILLIS_PER_MINUTE,
  MILLIS_PER_SECOND,
} from '../../wax/units.ts';

/** Clocks without power start in 1970, 1980 or 2000; none of this trade's readings is older than 2001. */
const EARLIEST: EpochMillis = epochMillis(Date.UTC(2001, 0, 1));
/** A clock set by the network agrees with ours better than this; common practice. */
const CLOCK_TOLERANCE_MILLIS = 2 * MILLIS_PER_MINUTE;
/** More than a wrong time zone or date line can explain. */
const FAR_AHEAD_MILLIS = MILLIS_PER_DAY;

/** An instant as the gateway gave it, and by how much its clock is ahead; 0 within the tolerance. */
export interface MeasuredAt {
  readonly at: EpochMillis;
  readonly aheadMillis: number;
}

export const measuredAt = (millis: number, receivedAt: EpochMillis): Result<MeasuredAt> => {
  if (!Number.isFinite(millis) || millis < EARLIEST) return failure('time-too-old', {}, describe(millis));
  const aheadMillis = millis - receivedAt;
  if (aheadMillis > FAR_AHEAD_MILLIS) return failure('time-in-future', {}, describe(millis));
  return success({
    at: epochMillis(millis),
    aheadMillis: aheadMillis > CLOCK_TOLERANCE_MILLIS ? aheadMillis : 0,
  });
};

export const clockAhead = (aheadMillis: number): Problem =>
  problem('clock-ahead', { ahead_seconds: Math.round(aheadMillis / MILLIS_PER_SECOND) });

/** A retained value without a time may be of any age; the gateway's next one counts. */
export const AGELESS: Problem = problem('retained-without-time');

/** RFC 8428 times reach beyond what a date can hold. */
function describe(millis: number): string {
  return Math.abs(millis) <= 8.64e15 ? new Date(millis).toISOString() : `${millis / 1000} s`;
}
