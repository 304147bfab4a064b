// What a lab wrote down when it held a probe against a reference thermometer at two or three temperatures, and the
// curve that follows from it. The science is in wax/probes/probe-calibration.ts.

import {
  type Corrected,
  applyCalibration,
  type ProbeCalibration,
  probeCalibration,
} from '../wax/probes/probe-calibration.ts';
import { type Result, success } from '../wax/result.ts';
import type { Celsius } from '../wax/units.ts';

export interface CalibrationEntry {
  /** When it was done, `YYYY-MM-DD`. */
  readonly day: string;
  /** The reference thermometer: name, number, certificate. */
  readonly reference?: string;
  readonly points: readonly {
    readonly reading_celsius: number;
    readonly reference_celsius: number;
    /** Standard deviation of the mean of the readings at this point. */
    readonly scatter_celsius?: number;
  }[];
  /** Expanded (k = 2), from the certificate of the reference. */
  readonly reference_uncertainty_celsius: number;
  /** Smallest step of the probe. */
  readonly resolution_celsius?: number;
}

/** An entry never changes, so its curve is worked out once. */
const curves = new WeakMap<CalibrationEntry, Result<ProbeCalibration>>();

export function calibrationCurve(entry: CalibrationEntry): Result<ProbeCalibration> {
  const worked = curves.get(entry);
  if (worked !== undefined) return worked;
  const curve = probeCalibration(
    entry.points.map((point) => ({
      reading: point.reading_celsius as Celsius,
      reference: point.reference_celsius as Celsius,
      scatter: point.scatter_celsius ?? 0,
    })),
    entry.reference_uncertainty_celsius,
    entry.resolution_celsius ?? 0,
  );
  curves.set(entry, curve);
  return curve;
}

/** A curve that cannot be drawn corrects nothing: watching goes on, and the checks of the lab have refused it. */
export function correctCelsius(entry: CalibrationEntry, raw: number): number {
  const curve = calibrationCurve(entry);
  return curve.ok ? applyCalibration(curve.value, raw as Celsius).celsius : raw;
}

/** Every point as the curve corrects it, and the largest uncertainty between them. */
export function calibrationResult(
  entry: CalibrationEntry,
): Result<{
  readonly points: readonly (Corrected & { readonly reading: number })[];
  readonly uncertainty_celsius: number;
}> {
  const curve = calibrationCurve(entry);
  if (!curve.ok) return curve;
  const points = curve.value.points.map(({ reading }) => ({
    reading,
    ...applyCalibration(curve.value, reading),
  }));
  return success({ points, uncertainty_celsius: Math.max(...points.map((point) => point.uncertainty)) });
}
