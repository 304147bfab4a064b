// How a waiting pattern stands: its predicted error and when it will meet its tolerance.

import type { Standing } from '../../../wax/wax-class.ts';

/** Plain numbers for screens and rules; micrometres over the pattern's length, instants in epoch milliseconds. */
export interface PatternOutlook {
  readonly pattern: string;
  readonly station: string | null;
  readonly predictedMicrometres: number;
  readonly lowMicrometres: number;
  readonly highMicrometres: number;
  readonly standing: Standing;
  /** The lab has fitted its own bent-stick test; else the figures are generic. */
  readonly isCalibrated: boolean;
  /** When the predicted error meets the tolerance: the earlier of the two below; null: never. */
  readonly toleranceAt: number | null;
  /** If the storage stays at its present temperature. */
  readonly toleranceIfSteadyAt: number | null;
  /** If the coming day goes as the last one; `undefined` while the place has no full day of readings. */
  readonly toleranceByForecastAt?: number | null;
  readonly meanKineticCelsius: number | null;
  readonly swings: number;
  readonly largestSwingCelsius: number;
  readonly minutesTooWarm: number;
  readonly tooWarm: boolean;
  /** The warmest that its wax may lie at, °C. */
  readonly storageMax: number;
}
