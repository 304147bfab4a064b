// A calibration as it is in the form, and what of it is saved. Pure. An empty field is null or an empty text.

import { type CalibrationEntry, calibrationResult } from '../../../../lab/calibration-entry.ts';
import type { ProbeBody } from '../../../api/lab-bodies.ts';
import { type DescribedProbe, probeBody } from './probe-body.ts';

export interface PointDraft {
  readonly reading_celsius: number | null;
  readonly reference_celsius: number | null;
  readonly scatter_celsius: number | null;
}
export const EMPTY_POINT: PointDraft = {
  reading_celsius: null,
  reference_celsius: null,
  scatter_celsius: null,
};

export interface CalibrationDraft {
  /** None: one correction holds at all temperatures. */
  readonly points: readonly PointDraft[];
  readonly correction_celsius: number | null;
  readonly uncertainty_celsius: number | null;
  readonly reference: string;
  readonly referenceUncertainty_celsius: number | null;
  readonly resolution_celsius: number | null;
  readonly day: string;
  readonly due: string;
  readonly powersOnAt85: boolean;
}

/** `today` is `YYYY-MM-DD`. */
export const calibrationDraft = (probe: DescribedProbe, today: string): CalibrationDraft => {
  const { calibration } = probe;
  return {
    points: (calibration?.points ?? []).map((point) => ({ ...EMPTY_POINT, ...point })),
    correction_celsius: probe.correction_celsius ?? 0,
    uncertainty_celsius: probe.uncertainty_celsius ?? null,
    reference: calibration?.reference ?? '',
    referenceUncertainty_celsius: calibration?.reference_uncertainty_celsius ?? null,
    resolution_celsius: calibration?.resolution_celsius ?? null,
    day: calibration?.day ?? today,
    due: probe.calibrationDue ?? '',
    powersOnAt85: probe.powersOnAt85 ?? true,
  };
};

/** Null while a point or the reference's uncertainty is not filled in, and where there are no points. */
export const entryOf = (draft: CalibrationDraft): CalibrationEntry | null => {
  const { day, reference, resolution_celsius, referenceUncertainty_celsius } = draft;
  const points = draft.points.flatMap(({ reading_celsius, reference_celsius, scatter_celsius }) =>
    reading_celsius === null || reference_celsius === null
      ? []
      : [{ reading_celsius, reference_celsius, ...(scatter_celsius !== null && { scatter_celsius }) }],
  );
  if (points.length === 0 || points.length < draft.points.length || referenceUncertainty_celsius === null)
    return null;
  return {
    day,
    points,
    reference_uncertainty_celsius: referenceUncertainty_celsius,
    ...(reference !== '' && { reference }),
    ...(resolution_celsius !== null && { resolution_celsius }),
  };
};

/** Rounded up, so that no reading is shown as surer than it is. */
const HUNDREDTHS = 100;
const uncertaintyOf = (draft: CalibrationDraft, entry: CalibrationEntry | null): number | null => {
  if (draft.points.length === 0) return draft.uncertainty_celsius;
  const result = entry === null ? null : calibrationResult(entry);
  return result?.ok ? Math.ceil(result.value.uncertainty_celsius * HUNDREDTHS) / HUNDREDTHS : null;
};

/** What the form does not show of the probe, its station, stays as it was. */
export const withCalibration = (probe: DescribedProbe, draft: CalibrationDraft): ProbeBody => {
  const { calibration: _, calibrationDue: __, ...rest } = probeBody(probe);
  const entry = entryOf(draft);
  const uncertainty = uncertaintyOf(draft, entry);
  return {
    ...rest,
    correction_celsius: draft.points.length > 0 ? 0 : (draft.correction_celsius ?? 0),
    ...(uncertainty !== null && { uncertainty_celsius: uncertainty }),
    ...(entry !== null && { calibration: { ...entry, points: [...entry.points] } }),
    ...(draft.due !== '' && { calibrationDue: draft.due }),
    powersOnAt85: draft.powersOnAt85,
  };
};
