import { describe, expect, it } from 'vitest';
import { withCalibration, calibrationDraft, EMPTY_POINT, entryOf } from './calibration-draft.ts';
import type { DescribedProbe } from './probe-body.ts';

const CALIBRATED: DescribedProbe = {
  id: 'p1',
  gateway: 'gw-1',
  station: 'pot',
  correction_celsius: 0,
  uncertainty_celsius: 0.4,
  powersOnAt85: false,
  calibrationDue: '2031-03-03',
  calibration: {
    day: '2030-03-03',
    reference: 'Reference 7',
    points: [
      { reading_celsius: 0.2, reference_celsius: 0 },
      { reading_celsius: 60.5, reference_celsius: 60, scatter_celsius: 0.1 },
    ],
    reference_uncertainty_celsius: 0.1,
  },
};

describe('a calibration in the form', () => {
  it('of a probe that was calibrated is saved as it was when nothing is changed', () => {
    const body = withCalibration(CALIBRATED, calibrationDraft(CALIBRATED, '2031-01-01'));
    const { id: _, gateway: __, uncertainty_celsius: ___, ...before } = CALIBRATED;
    expect(body).toMatchObject(before);
  });
  it('of a new probe begins with no correction, today, and a probe that may power on at 85 °C', () => {
    expect(calibrationDraft({ id: 'p2', gateway: 'gw-1' }, '2031-01-01')).toMatchObject({
      points: [],
      correction_celsius: 0,
      uncertainty_celsius: null,
      day: '2031-01-01',
      due: '',
      powersOnAt85: true,
    });
  });
  it('is no entry while a point is not filled in', () => {
    const draft = calibrationDraft(CALIBRATED, '2031-01-01');
    expect(entryOf({ ...draft, points: [...draft.points, EMPTY_POINT] })).toBeNull();
    expect(entryOf({ ...draft, referenceUncertainty_celsius: null })).toBeNull();
    expect(entryOf({ ...draft, points: [] })).toBeNull();
  });
  it('with points has no correction beside its curve, and the uncertainty of the curve, rounded up', () => {
    const draft = { ...calibrationDraft(CALIBRATED, '2031-01-01'), correction_celsius: 3 };
    const body = withCalibration(CALIBRATED, draft);
    expect(body.correction_celsius).toBe(0);
    expect(body.uncertainty_celsius).toBeGreaterThan(0.1);
    expect((body.uncertainty_celsius ?? 0) * 100).toBeCloseTo(
      Math.round((body.uncertainty_celsius ?? 0) * 100),
    );
  });
  it('without points keeps the correction and the uncertainty that were entered', () => {
    const draft = { ...calibrationDraft(CALIBRATED, '2031-01-01'), points: [], correction_celsius: -0.3 };
    const body = withCalibration(CALIBRATED, draft);
    expect(body).toMatchObject({ correction_celsius: -0.3, uncertainty_celsius: 0.4 });
    expect(body.calibration).toBeUndefined();
  });
});
