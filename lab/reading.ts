// One measurement, as everything behind the decoder sees it.

import type { Celsius, EpochMillis } from '../wax/units.ts';

/**
 * How far a reading may be trusted. Nothing is deleted for its quality: `suspect` and `uncertain-time` readings
 * are stored and shown as such. Rules leave `suspect` ones out; an uncertain time hides no heat.
 */
export type Quality = 'good' | 'suspect' | 'uncertain-time';

export interface Reading {
  /** Id of the probe, unique in the site: letters, digits, `.`, `_`, `-`, at most 64. */
  readonly probe: string;
  /** Instant of measurement. */
  readonly at: EpochMillis;
  readonly celsius: Celsius;
  readonly quality: Quality;
}

/** What a bare sensor gave; it becomes a reading once the kind of its probe is applied. */
export interface ElectricalReading extends Omit<Reading, 'celsius'> {
  readonly unit: 'Ohm' | 'mV';
  readonly value: number;
}
