// What a probe or its gateway reports of itself beside what it measures: its battery and how well its radio is received.

import type { EpochMillis } from '../wax/units.ts';

export interface DeviceStatus {
  /** Null: of the gateway, for those of its probes that report none of their own. */
  readonly probe: string | null;
  /** Never later than its arrival. */
  readonly at: EpochMillis;
  /** What is left, 0 to 100. */
  readonly battery_percent?: number;
  /** Of the battery under its load. */
  readonly battery_volts?: number;
  /** At the receiver, dBm: the nearer to nought, the stronger. */
  readonly signal_dbm?: number;
}

/** A cell is changed from here on: most devices stop within weeks. Common practice. */
export const LOW_BATTERY_PERCENT = 20;
