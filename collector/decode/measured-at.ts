// Which times of a message can be instants of this lab. What a clock without power or far ahead stamped is none, but
// all of its stamps together still show the order and the pace of its readings.

import { type Problem, problem } from '../../wax/result.ts';
import { type EpochMillis, MILLIS_PER_DAY, MILLIS_PER_MINUTE, MILLIS_PER_SECOND } from '../../wax/units.ts';

/** Clocks without power start in 1970, 1980 or 2000; none of this trade's readings is older than 2001. */
const EARLIEST_MILLIS = Date.UTC(2001, 0, 1);
/** A clock set by the network agrees with ours better than this; common practice. */
const CLOCK_TOLERANCE_MILLIS = 2 * MILLIS_PER_MINUTE;
/** More than a wrong time zone or date line can explain. */
const FAR_AHEAD_MILLIS = MILLIS_PER_DAY;
/** The range of JavaScript's dates. */
const FURTHEST_MILLIS = 8.64e15;

/** Why the stamp, epoch milliseconds, can be no instant of this lab; null when it can. */
export const noInstant = (stamp: number, receivedAt: number): Problem | null => {
  if (!Number.isFinite(stamp) || stamp < EARLIEST_MILLIS) return problem('time-too-old', {}, describe(stamp));
  if (stamp - receivedAt > FAR_AHEAD_MILLIS) return problem('time-in-future', {}, describe(stamp));
  return null;
};

export const canBeHeld = (stamp: number): boolean => Math.abs(stamp) <= FURTHEST_MILLIS;

/** What the newest stamp of a message shows of the gateway's clock; null when it may be right. */
export const clockProblem = (newest: number, receivedAt: EpochMillis): Problem | null => {
  if (newest < EARLIEST_MILLIS) return problem('clock-not-set');
  const aheadMillis = newest - receivedAt;
  return aheadMillis > CLOCK_TOLERANCE_MILLIS
    ? problem('clock-ahead', { ahead_seconds: Math.round(aheadMillis / MILLIS_PER_SECOND) })
    : null;
};

/** A retained value without a time may be of any age; the gateway's next one counts. */
export const AGELESS: Problem = problem('retained-without-time');

/** RFC 8428 times reach beyond what a date can hold. */
const describe = (millis: number): string =>
  canBeHeld(millis) ? new Date(millis).toISOString() : `${millis / 1000} s`;
