// The clock of a gateway against arrival. Newest readings that arrive a steady time after, or before, the instants that
// they bear tell how far the clock is off; then their instants are corrected, so that a wrong clock hides no heat. A
// backlog is not steady: it catches up.

/** Plain JSON, advanced in place. Lag is arrival minus the newest instant of a message, in milliseconds. */
export interface GatewayClock {
  /** What is added to instants; 0 while the clock is right or not known. */
  correction: number;
  /** Rises when the clock was set: instants before and after it cannot be compared. */
  epoch: number;
  /** Of the present steady stretch. */
  lagLow: number;
  lagHigh: number;
  since: number;
  messages: number;
  /** The newest message that says something of the clock, and what it said. */
  arrivedAt: number;
  instant: number;
  timing: Timing;
}

/** How the readings of a message stand to now: `undecided` where nothing separates a backlog from a wrong clock yet. */
type Timing = 'live' | 'past' | 'undecided';

/** Network and batching move the lag by no more than this. Common practice. */
const STEADY_MILLIS = 30_000;
/** A clock that is off by less is right. */
const RIGHT_MILLIS = 90_000;
/** Instants ahead of arrival by more than this can only come from a wrong clock. */
const AHEAD_MILLIS = 5000;
/**
 * Messages this near to each other in arrival and instant say the same of the clock: several probes at one instant, or
 * one message that was delivered again. That they keep pace with each other says nothing.
 */
const TOGETHER_MILLIS = 1000;

export const startClock = (arrivedAt: number, instant: number): GatewayClock => ({
  correction: 0,
  epoch: 0,
  lagLow: arrivedAt - instant,
  lagHigh: arrivedAt - instant,
  since: arrivedAt,
  messages: 0,
  arrivedAt,
  instant,
  timing: 'undecided',
});

/** Takes the newest instant of a message in, and answers how its readings stand to now, by corrected instants. */
export function advanceClock(
  clock: GatewayClock,
  arrivedAt: number,
  instant: number,
  staleMillis: number,
): Timing {
  const sinceArrival = arrivedAt - clock.arrivedAt;
  const sinceInstant = instant - clock.instant;
  const isTogether = sinceArrival < TOGETHER_MILLIS && Math.abs(sinceInstant) < TOGETHER_MILLIS;
  if (clock.messages > 0 && isTogether) return clock.timing;
  const keepsPace =
    clock.messages > 0 && Math.abs(sinceInstant - sinceArrival) <= paceSlack(sinceArrival, sinceInstant);
  clock.arrivedAt = arrivedAt;
  clock.instant = instant;
  advanceStretch(clock, arrivedAt, arrivedAt - instant);
  clock.timing = timingOf(clock, sinceArrival, sinceInstant, keepsPace, staleMillis);
  return clock.timing;
}

function timingOf(
  clock: GatewayClock,
  sinceArrival: number,
  sinceInstant: number,
  keepsPace: boolean,
  staleMillis: number,
): Timing {
  const lag = clock.arrivedAt - clock.instant;
  const isRight = lag >= -AHEAD_MILLIS && lag <= Math.max(staleMillis, RIGHT_MILLIS);
  if (isRight) {
    setCorrection(clock, 0);
    return 'live';
  }
  if (clock.correction !== 0 && Math.abs(lag - clock.correction) <= STEADY_MILLIS) return 'live';
  if (lag < 0 || (keepsPace && clock.messages >= 2)) {
    setCorrection(clock, lag);
    return 'live';
  }
  return sinceInstant > 2 * sinceArrival + STEADY_MILLIS ? 'past' : clock.messages < 2 ? 'undecided' : 'past';
}

/** Two messages this close in time and instant keep the pace of a live clock. */
const paceSlack = (sinceArrival: number, sinceInstant: number): number =>
  Math.max(300, 0.35 * Math.max(sinceArrival, sinceInstant));

function advanceStretch(clock: GatewayClock, arrivedAt: number, lag: number): void {
  const lagLow = Math.min(clock.lagLow, lag);
  const lagHigh = Math.max(clock.lagHigh, lag);
  if (lagHigh - lagLow > STEADY_MILLIS) {
    clock.lagLow = lag;
    clock.lagHigh = lag;
    clock.since = arrivedAt;
    clock.messages = 1;
    return;
  }
  clock.lagLow = lagLow;
  clock.lagHigh = lagHigh;
  clock.messages += 1;
}

function setCorrection(clock: GatewayClock, correction: number): void {
  if (Math.abs(correction - clock.correction) > STEADY_MILLIS) clock.epoch += 1;
  if (Math.abs(correction - clock.correction) > STEADY_MILLIS || correction === 0)
    clock.correction = correction;
}

const LEAST_STEADY_MILLIS = 600_000;
const FEWEST_MESSAGES = 10;

/** The steady lag; null until it has been steady for ten minutes. */
export const steadyLagMillis = (clock: GatewayClock | null): number | null =>
  clock === null || clock.messages < FEWEST_MESSAGES || clock.arrivedAt - clock.since < LEAST_STEADY_MILLIS
    ? null
    : (clock.lagLow + clock.lagHigh) / 2;
