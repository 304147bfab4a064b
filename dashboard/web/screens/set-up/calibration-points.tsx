// The temperatures at which a probe was compared with a reference, and what is known of the reference.

import { ActButton } from '../../base/act-button.tsx';
import { t } from '../../base/messages.ts';
import { fieldsOf, NumberField, TextField } from '../../forms/schema-fields.tsx';
import type { FormPart } from '../../forms/use-form.ts';
import { type CalibrationDraft, EMPTY_POINT, type PointDraft } from './calibration-draft.ts';

const FEWEST_POINTS = 2;
const MOST_POINTS = 3;

export type CalibrationPart = FormPart<CalibrationDraft>;

export const CurvePoints = ({ form, draft, onChange }: CalibrationPart) => {
  const { points } = draft;
  const isCurve = points.length > 0;
  const isFull = points.length === MOST_POINTS;
  const setPoints = (next: readonly PointDraft[]): void => onChange({ points: next });
  const change = (index: number, part: Partial<PointDraft>): void =>
    setPoints(points.map((point, at) => (at === index ? { ...point, ...part } : point)));
  const field = (index: number, name: keyof PointDraft) => ({
    form,
    at: `calibration/points/${index}/${name}`,
    value: points[index]?.[name] ?? null,
    onChange: (value: number | null) => change(index, { [name]: value }),
  });
  return (
    <>
      {points.map((_, index) => (
        <fieldset key={`point-${index + 1}`}>
          <legend>{t('calibration.point', { number: index + 1 })}</legend>
          <div class="pair">
            <NumberField {...field(index, 'reading_celsius')} label="calibration.reading" />
            <NumberField {...field(index, 'reference_celsius')} label="calibration.reference-says" />
            <NumberField {...field(index, 'scatter_celsius')} label="calibration.scatter" />
          </div>
        </fieldset>
      ))}
      <p class="row">
        {!isFull && (
          <ActButton
            text={t(isCurve ? 'calibration.third' : 'calibration.several')}
            onClick={() => setPoints(isCurve ? [...points, EMPTY_POINT] : [EMPTY_POINT, EMPTY_POINT])}
          />
        )}
        {isCurve && (
          <ActButton
            text={t(isFull ? 'calibration.drop-third' : 'calibration.single')}
            onClick={() => setPoints(isFull ? points.slice(0, FEWEST_POINTS) : [])}
          />
        )}
      </p>
    </>
  );
};

export const CurveFacts = ({ form, draft, onChange }: CalibrationPart) => {
  const field = fieldsOf(form, draft, onChange);
  return (
    <div class="pair">
      <TextField {...field('reference', 'calibration/reference')} label="calibration.reference" />
      <NumberField
        {...field('referenceUncertainty_celsius', 'calibration/reference_uncertainty_celsius')}
        label="calibration.reference-uncertainty"
      />
      <NumberField
        {...field('resolution_celsius', 'calibration/resolution_celsius')}
        label="calibration.resolution"
      />
      <TextField {...field('day', 'calibration/day')} label="calibration.day" type="date" />
    </div>
  );
};
