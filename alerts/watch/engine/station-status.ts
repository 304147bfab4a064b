// The status of a station now, as the rules see it: what the wall shows. An old value is never a live one.

import type { LoadOutlook } from '../measures/load.ts';
import type { Intent } from '../../../lab/intent.ts';
import type { Celsius, EpochMillis } from '../../../wax/units.ts';

/**
 * `no-data` covers both never seen and too old. `cold` is a heater at room temperature, off as it should be.
 * `steady`/`unsteady` are for storage; the window words for heaters; `measured` for what no limit of wax applies to.
 */
export const STATION_CONDITIONS = [
  'no-data',
  'cold',
  'warming',
  'below-window',
  'in-window',
  'above-window',
  'heading-over',
  'over-ceiling',
  'fire-risk',
  'left-on',
  'steady',
  'unsteady',
  'too-warm',
  'measured',
] as const;
export type StationCondition = (typeof STATION_CONDITIONS)[number];

export interface StationStatus {
  readonly station: string;
  readonly condition: StationCondition;
  /** Last reading; null when never seen. With several probes, the hottest fresh one for heaters, the mean else. */
  readonly celsius: Celsius | null;
  readonly at: EpochMillis | null;
  /** Degrees Celsius per hour over the last minutes; null while unknown. */
  readonly celsiusPerHour: number | null;
  /** Forecast minutes until the ceiling; null when it is not heading there. */
  readonly minutesToCeiling: number | null;
  /** Heat dose of the charge over its allowance, 0 and up; null for what is no pot. */
  readonly doseShare: number | null;
  readonly doseEquivalentHours: number | null;
  /** Peak to peak over the sliding window, for storage. */
  readonly swingCelsius: number | null;
  /** When the newest value stops being a live one; absent while nothing was ever measured. */
  readonly staleAfterSeconds?: number;
  /** What is in it to soften; absent: nothing. */
  readonly load?: LoadOutlook;
  /** What people mean it to do for a while; absent: nothing. */
  readonly intents?: readonly Intent[];
  /** Those that ended by themselves within the last hour, and that nobody took back; absent: none. */
  readonly endedIntents?: readonly Intent[];
}
