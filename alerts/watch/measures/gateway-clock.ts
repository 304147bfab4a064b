// Whether a gateway's clock is right: newest readings arrive a steady time after, or before, they say they were
// taken. A backlog is not steady: it catches up.

/** Plain JSON. Lag is arrival minus the newest instant of the message, in milliseconds. */
export interface GatewayClock {
  readonly lagLow: number;
  readonly lagHigh: number;
  /** Arrival of the first message of the steady stretch. */
  readonly since: number;
  readonly newest: number;
  readonly messages: number;
  /** Newest instant so far; a message without a newer one says nothing of the clock. */
  readonly lastInstant: number;
}

/** Network and batching move the lag by no more than this. Common practice. */
const STEADY_MILLIS = 30_000;

export function gatewayClockStep(
  clock: GatewayClock | null,
  arrivedAt: number,
  newestAt: number,
): GatewayClock {
  const lag = arrivedAt - newestAt;
  const begun = {
    lagLow: lag,
    lagHigh: lag,
    since: arrivedAt,
    newest: arrivedAt,
    messages: 1,
    lastInstant: newestAt,
  };
  if (clock === null) return begun;
  if (newestAt <= clock.lastInstant) return clock;
  const lagLow = Math.min(clock.lagLow, lag);
  const lagHigh = Math.max(clock.lagHigh, lag);
  if (lagHigh - lagLow > STEADY_MILLIS) return begun;
  return {
    lagLow,
    lagHigh,
    since: clock.since,
    newest: arrivedAt,
    messages: clock.messages + 1,
    lastInstant: newestAt,
  };
}

const LEAST_STEADY_MILLIS = 600_000;
const FEWEST_MESSAGES = 10;

/** The steady lag; null until it has been steady for ten minutes. */
export const steadyLagMillis = (clock: GatewayClock | null): number | null =>
  clock === null || clock.messages < FEWEST_MESSAGES || clock.newest - clock.since < LEAST_STEADY_MILLIS
    ? null
    : (clock.lagLow + clock.lagHigh) / 2;
