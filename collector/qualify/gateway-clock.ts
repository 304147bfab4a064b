// The clock of a gateway against arrival. Messages that keep arriving a steady time after, or before, the times that they
// bear show how far the clock is off; then their times are corrected, so that a wrong clock hides no heat. A backlog is not
// steady: it catches up. What can be neither is taken by its arrival.

import { MOST_DELAY_MILLIS, type Timing } from '../../lab/entry.ts';
import { MILLIS_PER_MINUTE, MILLIS_PER_SECOND } from '../../wax/units.ts';
import { noInstant } from '../decode/measured-at.ts';

/** A message by its arrival and the newest time that it bears, both in epoch milliseconds. */
interface Stamped {
  readonly arrivedAt: number;
  readonly stamp: number;
}

/** Messages that do not fit the offset, since the last one that did. */
interface Unfitting {
  readonly first: Stamped;
  readonly last: Stamped;
  readonly messages: number;
  /** Of the newest ones, how many in a row kept pace with arrival; absent in a state of an earlier version. */
  readonly paced?: number;
}

interface SlowRun {
  readonly since: number;
  readonly messages: number;
  readonly lagLow: number;
  readonly lagHigh: number;
}

/** Plain JSON. Lag is arrival minus stamp, in milliseconds. */
export interface GatewayClock {
  /** Added to stamps: 0 while the clock is right, null until anything is known. */
  readonly offset: number | null;
  /** Of the messages that fit the offset. */
  readonly lagLow: number;
  readonly lagHigh: number;
  readonly since: number;
  readonly messages: number;
  readonly fitting: Stamped | null;
  readonly unfitting: Unfitting | null;
  /** Messages in a row that bear the very time of the one before. */
  readonly frozen: number;
  /** Messages in a row that fit, but are late by nearly the same; absent where the newest is not late. */
  readonly slow?: SlowRun;
  /** Messages that repeated stored readings, since the last one that fitted; absent: none. */
  readonly repeated?: Unfitting;
  /** Arrivals of the newest messages that showed the clock to have jumped, oldest first; absent while it never did. */
  readonly jumpedAt?: readonly number[];
  /** By how much it was corrected before its newest jump, and when that was seen; absent while it never jumped. */
  readonly earlier?: { readonly offset: number; readonly until: number };
}

/** What a message shows of the clock, and how its own times are to be taken. */
export interface ClockReading {
  readonly clock: GatewayClock;
  readonly timing: Timing;
  /** Milliseconds to add to its stamps. */
  readonly offset: number;
}

/** Clocks that are set by the network agree better than this; a stamp further ahead comes from a wrong clock. */
const AHEAD_MILLIS = 5 * MILLIS_PER_SECOND;
/** Messages this near in arrival and stamp show the same of the clock: several probes at one instant. */
const TOGETHER_MILLIS = MILLIS_PER_SECOND;
/** A stamp that stands still this often is no repeat: the clock does. */
const FROZEN_AFTER = 2;
/** So many messages over so long that neither keep pace nor catch up come from a clock that cannot be followed. */
const LAWLESS_AFTER = 3;
/** A pause within a backlog that was catching up may look like the pace of a clock now and then, hardly so often in a row. */
const PACED_AFTER_BACKLOG = 5;
const LAWLESS_AFTER_MILLIS = 20 * MILLIS_PER_SECOND;

export const newClock = (): GatewayClock => ({
  offset: null,
  lagLow: 0,
  lagHigh: 0,
  since: 0,
  messages: 0,
  fitting: null,
  unfitting: null,
  frozen: 0,
});

/** Takes in the newest stamp of a message; one that was delivered before is not to be given here. */
export function readClock(before: GatewayClock, arrivedAt: number, stamp: number): ClockReading {
  const message = { arrivedAt, stamp };
  const last = before.unfitting?.last ?? before.fitting;
  const frozen = last !== null && isStandingStill(last, message) ? before.frozen + 1 : 0;
  const offset = frozen >= FROZEN_AFTER ? arrivedAt - stamp : offsetOf(before, message);
  if (offset !== null) {
    const slow = slowRun(before.slow, message, offset);
    const steady = slow !== undefined && isSteady(slow, message) ? correctionOf(arrivedAt - stamp) : offset;
    const clock = fitClock(before, frozen, message, steady);
    const isSlow = slow !== undefined && steady === offset;
    return { clock: isSlow ? { ...clock, slow } : clock, timing: 'live', offset: steady };
  }
  const unfitting = withMessage(before.unfitting, message);
  const past = earlierOffset(before, message) ?? before.offset ?? 0;
  return { clock: { ...before, unfitting, frozen }, timing: 'past', offset: past };
}

/**
 * Takes in a message whose readings are all stored already; a repeat while nothing shows that it is not. A steady probe sends
 * the same at the same times once more when the clock is set back; then the times keep the pace of arrival.
 */
export function readRepeat(
  before: GatewayClock,
  arrivedAt: number,
  stamp: number,
): { readonly clock: GatewayClock; readonly isRepeat: boolean } {
  const message = { arrivedAt, stamp };
  if (isDelay(arrivedAt - stamp - (before.offset ?? 0))) return { clock: before, isRepeat: true };
  const { repeated = null } = before;
  const now = withMessage(repeated, message);
  return now.paced < PACED_AFTER_BACKLOG
    ? { clock: { ...before, repeated: now }, isRepeat: true }
    : { clock: { ...before, unfitting: repeated }, isRepeat: false };
}

/** Beyond this a delay that hardly changes is the clock's; it is half of what makes a value stale. Common practice. */
const SLOW_MILLIS = 30 * MILLIS_PER_SECOND;
const SLOW_MESSAGES = 5;

function slowRun(before: SlowRun | undefined, message: Stamped, offset: number): SlowRun | undefined {
  const lag = message.arrivedAt - message.stamp;
  if (lag - offset <= SLOW_MILLIS) return undefined;
  const lagLow = Math.min(lag, before?.lagLow ?? lag);
  const lagHigh = Math.max(lag, before?.lagHigh ?? lag);
  if (before === undefined || lagHigh - lagLow > AHEAD_MILLIS)
    return { since: message.arrivedAt, messages: 1, lagLow: lag, lagHigh: lag };
  return { since: before.since, messages: before.messages + 1, lagLow, lagHigh };
}

const isSteady = ({ since, messages }: SlowRun, { arrivedAt }: Stamped): boolean =>
  messages >= SLOW_MESSAGES && arrivedAt - since >= LAWLESS_AFTER_MILLIS;

/** What makes the stamp one of now; null when the message is of a backlog as far as is known. */
function offsetOf(clock: GatewayClock, message: Stamped): number | null {
  const { offset, fitting, unfitting } = clock;
  const lag = message.arrivedAt - message.stamp;
  const last = unfitting?.last ?? fitting;
  // It was known to be ahead and now agrees: it was set right.
  const isSetRight = offset !== null && offset < 0 && Math.abs(lag) <= AHEAD_MILLIS;
  if (isSetRight && (last === null || isApart(last, message))) return 0;
  if (offset !== null && isDelay(lag - offset)) return offset;
  const wanted = isDelay(lag) ? 0 : correctionOf(lag);
  // A stamp ahead of now, by what is known of the clock, shows that the clock was set or is wrong.
  if (offset === null && (lag < 0 || noInstant(message.stamp, message.arrivedAt) !== null)) return wanted;
  const isAhead = offset !== null && lag < offset && (lag < 0 || wanted === 0 || !isOfBurst(last, message));
  if (isAhead && earlierOffset(clock, message) === null) return wanted;
  if (wanted === 0 && (last === null || isApart(last, message))) return 0;
  if (unfitting === null) return null;
  const needed = catchesUp(unfitting.first, message) ? PACED_AFTER_BACKLOG : 1;
  return countPaced(unfitting, message) >= needed || isLawless(unfitting, message) ? wanted : null;
}

/** What corrects a time of a backlog that the clock gave it before it jumped; null where it did not. */
function earlierOffset({ earlier }: GatewayClock, { arrivedAt, stamp }: Stamped): number | null {
  if (earlier === undefined || stamp + earlier.offset > earlier.until) return null;
  // Between then and now the clock as it is may have given it too.
  return stamp <= earlier.until || stamp - arrivedAt > AHEAD_MILLIS ? earlier.offset : null;
}

/**
 * Up to two seconds less than the lag, and never a whole second: many gateways stamp whole seconds, and a corrected
 * instant must not be taken for the stamp of another reading.
 */
const correctionOf = (lag: number): number => Math.floor(lag / MILLIS_PER_SECOND) * MILLIS_PER_SECOND - 993;

const isDelay = (millis: number): boolean => millis >= -AHEAD_MILLIS && millis <= MOST_DELAY_MILLIS;

const isStandingStill = (before: Stamped, { arrivedAt, stamp }: Stamped): boolean =>
  before.stamp === stamp && arrivedAt - before.arrivedAt >= TOGETHER_MILLIS;

/** It is known to stand still, and the message bears its time once more: no repeat, though its value may be the same. */
export function isOfStillClock({ fitting, frozen }: GatewayClock, arrivedAt: number, stamp: number): boolean {
  return frozen >= FROZEN_AFTER && fitting !== null && isStandingStill(fitting, { arrivedAt, stamp });
}

const isTogether = (before: Stamped, { arrivedAt, stamp }: Stamped): boolean =>
  arrivedAt - before.arrivedAt < TOGETHER_MILLIS && Math.abs(stamp - before.stamp) < TOGETHER_MILLIS;

/** Stamps advance as arrivals do: the way of a live clock. */
function keepsPace(before: Stamped, message: Stamped): boolean {
  const sinceArrival = message.arrivedAt - before.arrivedAt;
  const sinceStamp = message.stamp - before.stamp;
  const slack = Math.max(300, 0.35 * Math.max(sinceArrival, sinceStamp));
  return Math.abs(sinceStamp - sinceArrival) <= slack;
}

/** Several probes at one instant neither keep nor break the pace. */
function countPaced(unfitting: Unfitting | null, message: Stamped): number {
  if (unfitting === null) return 0;
  const before = unfitting.paced ?? 0;
  if (isTogether(unfitting.last, message)) return before;
  return keepsPace(unfitting.last, message) ? before + 1 : 0;
}

/**
 * Of messages at one instant the first counts: where they follow one another within a second without end, as those of
 * some probes that are read each second do, the next one a second after it shows the pace.
 */
function withMessage(before: Unfitting | null, message: Stamped): Unfitting & { readonly paced: number } {
  if (before === null) return { first: message, last: message, messages: 1, paced: 0 };
  const paced = countPaced(before, message);
  return isTogether(before.last, message)
    ? { ...before, paced }
    : { ...before, last: message, messages: before.messages + 1, paced };
}

const catchesUp = (before: Stamped, message: Stamped): boolean =>
  message.stamp - before.stamp > 2 * (message.arrivedAt - before.arrivedAt);

/** On the way to catch up, in one burst with the one before. */
const isOfBurst = (before: Stamped | null, message: Stamped): boolean =>
  before !== null && message.arrivedAt - before.arrivedAt < TOGETHER_MILLIS && catchesUp(before, message);

/** Neither in one burst with the one before nor on the way to catch up. */
const isApart = (before: Stamped, message: Stamped): boolean =>
  message.arrivedAt - before.arrivedAt >= TOGETHER_MILLIS && !catchesUp(before, message);

const isLawless = ({ first, messages }: Unfitting, message: Stamped): boolean =>
  messages >= LAWLESS_AFTER &&
  message.arrivedAt - first.arrivedAt >= Math.max(LAWLESS_AFTER_MILLIS, messages * TOGETHER_MILLIS) &&
  !catchesUp(first, message);

/** Written out field by field: it is made for each message, and copies of a whole object cost several times as much. */
function fitClock(clock: GatewayClock, frozen: number, message: Stamped, offset: number): GatewayClock {
  const lag = message.arrivedAt - message.stamp;
  const isNew = offset !== clock.offset;
  const fitted = {
    offset,
    lagLow: isNew ? lag : Math.min(clock.lagLow, lag),
    lagHigh: isNew ? lag : Math.max(clock.lagHigh, lag),
    since: isNew ? message.arrivedAt : clock.since,
    messages: isNew ? 1 : clock.messages + 1,
    fitting: message,
    unfitting: null,
    frozen,
  };
  const { earlier, jumpedAt } = clock;
  if (isNew && clock.offset !== null && Math.abs(offset - clock.offset) > JUMP_MILLIS)
    return {
      ...fitted,
      jumpedAt: [...(jumpedAt ?? []), message.arrivedAt].slice(-UNSTEADY_JUMPS),
      earlier: { offset: clock.offset, until: message.arrivedAt },
    };
  return jumpedAt === undefined ? fitted : { ...fitted, jumpedAt, ...(earlier && { earlier }) };
}

/** Less is the jitter of a correction, or a clock that drifts and is set. Common practice. */
const JUMP_MILLIS = 2 * MILLIS_PER_MINUTE;
/** Twice is a clock that lost its time and was set again. */
const UNSTEADY_JUMPS = 3;
const UNSTEADY_MILLIS = 60 * MILLIS_PER_MINUTE;

/** Whether the clock jumped three times within the hour before its newest message. */
export const isUnsteady = ({ jumpedAt = [], fitting }: GatewayClock): boolean =>
  jumpedAt.length >= UNSTEADY_JUMPS && (fitting?.arrivedAt ?? 0) - (jumpedAt[0] ?? 0) <= UNSTEADY_MILLIS;

const LEAST_STEADY_MILLIS = 10 * MILLIS_PER_MINUTE;
const FEWEST_MESSAGES = 10;

/**
 * How far the clock is behind, milliseconds, negative when it is ahead; null until it has been steady for ten minutes.
 * @example steadyLagMillis(clock) // 3_600_000: an hour behind
 */
export const steadyLagMillis = ({
  fitting,
  since,
  messages,
  lagLow,
  lagHigh,
}: GatewayClock): number | null =>
  fitting === null || messages < FEWEST_MESSAGES || fitting.arrivedAt - since < LEAST_STEADY_MILLIS
    ? null
    : (lagLow + lagHigh) / 2;
