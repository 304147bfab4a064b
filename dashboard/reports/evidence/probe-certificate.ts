// What a probe was found to be and what it was left as: the errors at the points of its calibration by the correction
// that held before, and by the one that held from then on. Pure.

import { correctedBy } from '../../../lab/calibration-entry.ts';
import type { Probe } from '../../../lab/lab.ts';
import type { ProbePeriod, SettingsHistory } from '../../../lab/settings-history.ts';
import type { EvidenceProbe } from '../../api/evidence.ts';

type Correction = Pick<Probe, 'correction_celsius' | 'calibration'>;
type Versions = ReturnType<SettingsHistory['probeVersions']>;

const shownBy = ({ calibration, correction_celsius }: Correction, raw: number): number =>
  calibration === undefined ? raw + correction_celsius : correctedBy(calibration, raw);

const UNCORRECTED: Correction = { correction_celsius: 0 };

const correctionOf = (probe: Probe | null): string =>
  JSON.stringify([probe?.calibration ?? null, probe?.correction_celsius ?? 0]);

/** What corrected the probe before the calibration that it has now; nothing did where the record does not go back so far. */
const correctionBefore = (versions: Versions, now: Probe): Correction =>
  versions.findLast(({ probe }, index) => {
    const after = versions.slice(index + 1);
    return (
      probe !== null &&
      correctionOf(probe) !== correctionOf(now) &&
      after.some((version) => correctionOf(version.probe) === correctionOf(now))
    );
  })?.probe ?? UNCORRECTED;

export const probeCertificate = ({ from, to, probe }: ProbePeriod, versions: Versions): EvidenceProbe => {
  const { calibration } = probe;
  const earlier = versions.filter((version) => version.from <= from || version.from < to);
  const before = correctionBefore(earlier, probe);
  return {
    probe: probe.id,
    from: new Date(from).toISOString(),
    to: new Date(to).toISOString(),
    correctionCelsius: probe.correction_celsius,
    uncertaintyCelsius: probe.uncertainty_celsius,
    calibrationDue: probe.calibrationDue ?? null,
    certificate:
      calibration === undefined
        ? null
        : {
            day: calibration.day,
            reference: calibration.reference ?? null,
            referenceUncertaintyCelsius: calibration.reference_uncertainty_celsius,
            points: calibration.points.map(({ reading_celsius, reference_celsius }) => ({
              readingCelsius: reading_celsius,
              referenceCelsius: reference_celsius,
              asFoundErrorCelsius: shownBy(before, reading_celsius) - reference_celsius,
              asLeftErrorCelsius: shownBy(probe, reading_celsius) - reference_celsius,
            })),
          },
  };
};
