// Digital one-wire probes answer exactly 85.000 °C when they are read before their first conversion, as after
// power-on or a brown-out. A pot can truly be at 85 °C, so the value alone proves nothing: it takes evidence of a
// reset or a jump that no wax makes, and it is accepted once it stays.
// The register's value is the maker's; the judgement is common practice without a source.

import { type EpochMillis, MILLIS_PER_MINUTE, MILLIS_PER_SECOND } from '../../wax/units.ts';

const POWER_ON_CELSIUS = 85;
/** A last value this near makes a true 85 likely, and a false one harmless. */
const NEAR_CELSIUS = 5;
/** Faster than any pot, annealer or bath of the trade heats. */
const FASTEST_CELSIUS_PER_SECOND = 0.5;
/** A value that stays is accepted after so many readings over so long: a hot pot must not be doubted for ever. */
const BELIEVED_AFTER_READINGS = 5;
const BELIEVED_AFTER_MILLIS = 2 * MILLIS_PER_MINUTE;

export interface PowerOnDoubt {
  readonly since: EpochMillis;
  readonly count: number;
}

export interface PowerOnEvidence {
  /** Last reading that was accepted, before correction. */
  readonly lastGood: { readonly at: EpochMillis; readonly raw: number } | null;
  /** The gateway has started since the probe's last reading. */
  readonly wasReset: boolean;
  /** The doubt that the reading before left; null when it was accepted. */
  readonly doubt: PowerOnDoubt | null;
}

/** Whether there is anything to check: only the register's own value is ever doubted. */
export const mayBePowerOnValue = (raw: number): boolean => raw === POWER_ON_CELSIUS;

/** The doubt about this reading; null when it is accepted. */
export const powerOnDoubt = (
  raw: number,
  at: EpochMillis,
  evidence: PowerOnEvidence,
): PowerOnDoubt | null => {
  const { lastGood, wasReset, doubt } = evidence;
  if (!mayBePowerOnValue(raw)) return null;
  if (doubt !== null) {
    const count = doubt.count + 1;
    return count >= BELIEVED_AFTER_READINGS && at - doubt.since >= BELIEVED_AFTER_MILLIS
      ? null
      : { since: doubt.since, count };
  }
  const jump = lastGood === null ? Number.POSITIVE_INFINITY : Math.abs(raw - lastGood.raw);
  if (jump <= NEAR_CELSIUS) return null;
  const seconds = lastGood === null ? 0 : (at - lastGood.at) / MILLIS_PER_SECOND;
  const isTooFast = jump > FASTEST_CELSIUS_PER_SECOND * seconds;
  return wasReset || isTooFast ? { since: at, count: 1 } : null;
};
