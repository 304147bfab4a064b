// What a probe's calibration makes of a value, and the way back to what came in. Pure.

import { ABSOLUTE_ZERO_CELSIUS } from '../../wax/units.ts';
import { correctCelsius } from '../calibration-entry.ts';
import type { Probe } from '../lab.ts';

type Corrected = Pick<Probe, 'calibration' | 'correction_celsius'>;

/** Degrees Celsius, from degrees Celsius as the probe measured them. */
export const probeCorrected = ({ calibration, correction_celsius }: Corrected, raw: number): number =>
  calibration === undefined ? raw + correction_celsius : correctCelsius(calibration, raw);

/** Hotter than any probe. */
const MOST_CELSIUS = 2000;
const STEPS = 60;

/**
 * What the probe measured where this is stored. A calibration never folds its scale over, so there is one such value;
 * it is exact to a millionth of a degree.
 * @example probeUncorrected({ correction_celsius: 0.4 }, 60.4) // 60.0
 */
export function probeUncorrected(probe: Corrected, celsius: number): number {
  if (probe.calibration === undefined) return celsius - probe.correction_celsius;
  let low: number = ABSOLUTE_ZERO_CELSIUS;
  let high = MOST_CELSIUS;
  for (let step = 0; step < STEPS; step += 1) {
    const middle = (low + high) / 2;
    if (probeCorrected(probe, middle) < celsius) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
