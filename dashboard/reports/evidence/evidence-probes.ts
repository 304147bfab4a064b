// Which probe measured at a place when, and by which calibration: a line for each calibration of each stay. Pure.

import { type Certificate, certificates } from '../../../lab/probes/probe-certificates.ts';
import { probeVersionAt, type ProbeStay } from '../../../lab/probes/probe-stays.ts';
import type { ProbeVersion } from '../../../lab/database/settings-history.ts';
import type { EvidenceProbe } from '../../api/evidence.ts';
import { iso } from '../../../wax/iso.ts';

/** Those that corrected the readings of the stay, oldest first; the oldest on record stands in for the time before it. */
const heldIn = (all: readonly Certificate[], { from, to }: ProbeStay): readonly Certificate[] => {
  const oldestFirst = [...all].reverse().filter(({ at }) => at < to);
  const first = oldestFirst.findLastIndex(({ at }) => at <= from);
  return oldestFirst.slice(Math.max(0, first));
};

export const evidenceProbes = (
  stay: ProbeStay,
  versions: readonly ProbeVersion[],
): readonly EvidenceProbe[] => {
  const described = probeVersionAt(versions, stay.to - 1);
  const held = heldIn(certificates(versions), stay);
  if (held.length === 0)
    return [
      {
        probe: stay.probe,
        from: iso(stay.from),
        to: iso(stay.to),
        correctionCelsius: described?.correction_celsius ?? 0,
        uncertaintyCelsius: described?.uncertainty_celsius ?? null,
        calibrationDue: described?.calibrationDue ?? null,
        certificate: null,
      },
    ];
  return held.map((certificate, index) => ({
    probe: stay.probe,
    from: iso(index === 0 ? stay.from : certificate.at),
    to: iso(held[index + 1]?.at ?? stay.to),
    correctionCelsius: certificate.correctionAfter_celsius,
    uncertaintyCelsius: certificate.uncertainty_celsius,
    calibrationDue: certificate.due,
    certificate:
      certificate.day === null
        ? null
        : {
            day: certificate.day,
            reference: certificate.reference,
            referenceUncertaintyCelsius: certificate.referenceUncertainty_celsius,
            points: certificate.points.map((point) => ({
              readingCelsius: point.reading_celsius,
              referenceCelsius: point.reference_celsius,
              asFoundErrorCelsius: point.foundError_celsius,
              asLeftErrorCelsius: point.leftError_celsius,
            })),
          },
  }));
};
