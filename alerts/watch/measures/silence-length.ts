// How long a probe must have sent nothing for it to count as silent: by its usual period, and never much longer than people
// may be blind.

/** From a missed reading to the next it takes a period; a reading may come a little late. */
const LATE_PERIODS = 0.5;
/** Longer nobody need be blind, where a probe could have sent five times meanwhile. Common practice. */
const LONGEST_SECONDS = 1680;
const FEWEST_PERIODS = 5;

export interface SilenceFigures {
  /** Missed readings. */
  readonly periods: number;
  readonly leastSeconds: number;
}

/**
 * A radio that loses a tenth of its messages in bursts loses five in a row now and then, so that the silence of one probe
 * is waited for longer, by the figures of its rule. Where all probes of a gateway miss as many at once, that is no chance.
 */
export const COMMON_SILENCE: SilenceFigures = { periods: 5, leastSeconds: 300 };

/** A device that its gateway reports as gone is back within this where it only connects anew. Common practice. */
export const GONE_GRACE_SECONDS = 60;

/** @example silenceSeconds(COMMON_SILENCE, 60) // 330 */
export const silenceSeconds = ({ periods, leastSeconds }: SilenceFigures, periodSeconds: number): number =>
  Math.max(
    leastSeconds,
    Math.min(
      (periods + LATE_PERIODS) * periodSeconds,
      Math.max(LONGEST_SECONDS, FEWEST_PERIODS * periodSeconds),
    ),
  );
