// Whether an instant from a gateway's clock can be believed. A clock that runs ahead is the dangerous one: its
// reading would make every later true one look late, so it never enters with that instant.

import { failure, type Problem, type Result, success } from '../../wax/result.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY, MILLIS_PER_MINUTE } from '../../wax/units.ts';

/** Clocks without power start in 1970, 1980 or 2000; none of this trade's readings is older than 2001. */
const EARLIEST: EpochMillis = epochMillis(Date.UTC(2001, 0, 1));
/** A clock set by the network agrees with ours better than this; common practice. */
const CLOCK_TOLERANCE_MILLIS = 2 * MILLIS_PER_MINUTE;
/** More than a wrong time zone or date line can explain. */
const FAR_AHEAD_MILLIS = MILLIS_PER_DAY;

/** What is to be done with an instant: it is believed, or the clock that made it is ahead by so much. */
export type Believed = { readonly at: EpochMillis; readonly aheadMillis: number };

export const measuredAt = (millis: number, receivedAt: EpochMillis): Result<Believed> => {
  if (!Number.isFinite(millis) || millis < EARLIEST)
    return failure(
      'time-too-old',
      'The time lies before 2001, as of a clock that was never set. Set the clock of the gateway, or leave the time out.',
      describe(millis),
    );
  const aheadMillis = millis - receivedAt;
  if (aheadMillis > FAR_AHEAD_MILLIS)
    return failure(
      'time-in-future',
      'The time lies more than a day ahead. Set the clock of the gateway, or leave the time out.',
      describe(millis),
    );
  return success({
    at: epochMillis(millis),
    aheadMillis: aheadMillis > CLOCK_TOLERANCE_MILLIS ? aheadMillis : 0,
  });
};

export const clockAhead = (aheadMillis: number): Problem => ({
  code: 'clock-ahead',
  message: `The clock of the gateway is ${Math.round(aheadMillis / 1000)} s ahead of ours. Its readings are kept as if measured on arrival, with their time marked uncertain. Set the clock.`,
});

/** A retained value without a time may be of any age; the gateway's next one counts. */
export const AGELESS: Problem = {
  code: 'retained-without-time',
  message:
    'The broker kept this value as the last of its topic, and nothing tells how old it is. Publish readings without the retain flag, or as SenML with a time.',
};

/** RFC 8428 times reach beyond what a date can hold. */
function describe(millis: number): string {
  return Math.abs(millis) <= 8.64e15 ? new Date(millis).toISOString() : `${millis / 1000} s`;
}
