// The calibrations of a probe over time, from the versions of its description: what was compared, how far off its corrected readings were
// found, and how far off they were left. Pure.

import type { EpochMillis } from '../../wax/units.ts';
import { calibrationResult } from '../calibration-entry.ts';
import type { Probe } from '../lab.ts';
import { probeCorrected } from './probe-correction.ts';
import type { ProbeVersion } from '../database/settings-history.ts';

export interface CertificatePoint {
  readonly reading_celsius: number;
  readonly reference_celsius: number;
  /** Corrected reading minus reference, by the calibration before and by this one. */
  readonly foundError_celsius: number;
  readonly leftError_celsius: number;
}

export interface Certificate {
  /** When it was entered. */
  readonly at: EpochMillis;
  /** `YYYY-MM-DD` of the comparison; null for a correction without one. */
  readonly day: string | null;
  readonly reference: string | null;
  /** k = 2 */
  readonly referenceUncertainty_celsius: number | null;
  readonly uncertainty_celsius: number;
  readonly due: string | null;
  /** Single corrections; null on a side that has a curve. */
  readonly correctionBefore_celsius: number | null;
  readonly correctionAfter_celsius: number | null;
  readonly points: readonly CertificatePoint[];
}

type Calibrated = Pick<
  Probe,
  'calibration' | 'correction_celsius' | 'uncertainty_celsius' | 'calibrationDue'
>;
const UNTOUCHED = { correction_celsius: 0 };

const calibrationOf = (probe: Calibrated): string =>
  JSON.stringify([
    probe.calibration ?? null,
    probe.correction_celsius,
    probe.uncertainty_celsius,
    probe.calibrationDue ?? null,
  ]);

const certificateOf = (
  at: EpochMillis,
  before: Pick<Probe, 'calibration' | 'correction_celsius'>,
  after: Calibrated,
): Certificate => {
  const { calibration } = after;
  const curve = calibration === undefined ? null : calibrationResult(calibration);
  return {
    at,
    day: calibration?.day ?? null,
    reference: calibration?.reference ?? null,
    referenceUncertainty_celsius: calibration?.reference_uncertainty_celsius ?? null,
    uncertainty_celsius: curve?.ok ? curve.value.uncertainty_celsius : after.uncertainty_celsius,
    due: after.calibrationDue ?? null,
    correctionBefore_celsius: before.calibration === undefined ? before.correction_celsius : null,
    correctionAfter_celsius: calibration === undefined ? after.correction_celsius : null,
    points: (calibration?.points ?? []).map(({ reading_celsius, reference_celsius }) => ({
      reading_celsius,
      reference_celsius,
      foundError_celsius: probeCorrected(before, reading_celsius) - reference_celsius,
      leftError_celsius: probeCorrected(after, reading_celsius) - reference_celsius,
    })),
  };
};

/** Of one probe, newest first. The first description of a probe is one where it holds more than that nobody calibrated it. */
export function certificates(versions: readonly ProbeVersion[]): readonly Certificate[] {
  const found: Certificate[] = [];
  let before: Probe | null = null;
  for (const { from, probe } of versions) {
    if (probe === null) continue;
    const says =
      before === null
        ? probe.calibration !== undefined ||
          probe.correction_celsius !== 0 ||
          probe.calibrationDue !== undefined
        : calibrationOf(before) !== calibrationOf(probe);
    if (says) found.unshift(certificateOf(from, before ?? UNTOUCHED, probe));
    before = probe;
  }
  return found;
}
