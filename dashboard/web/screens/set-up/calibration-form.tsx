// A probe against a reference thermometer: one correction, or two or three temperatures with the curve through them.
// What the entry does to readings, and how sure they then are, is shown before it is saved.

import { type CalibrationEntry, calibrationResult } from '../../../../lab/calibration-entry.ts';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import { formatDifference, formatTemperature } from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { SubmitRow } from '../../forms/saving.tsx';
import { fieldsOf, NumberField, TextField, TickField } from '../../forms/schema-fields.tsx';
import { now, reader } from '../../live/lab-state.ts';
import { labChanged } from '../../live/use-loaded.ts';
import { withCalibration, calibrationDraft, entryOf } from './calibration-draft.ts';
import { type CalibrationPart, CurveFacts, CurvePoints } from './calibration-points.tsx';
import type { ProbeFormProps } from './probe-body.ts';
import { putProbe } from './put-probe.ts';
import { submitWith } from '../../forms/submit-with.ts';
import { useForm } from '../../forms/use-form.ts';

const Outcome = ({ entry }: { readonly entry: CalibrationEntry }) => {
  const result = calibrationResult(entry);
  if (!result.ok)
    return (
      <p class="refusal" role="alert">
        {word('calibration-problem', result.problem.code)}
      </p>
    );
  return (
    <div class="card" role="status">
      <ul>
        {result.value.points.map((point) => (
          <li key={point.reading}>
            {t('calibration.becomes', {
              reading: formatTemperature(point.reading, reader.value, 2),
              corrected: formatTemperature(point.celsius, reader.value, 2),
              uncertainty: formatDifference(point.uncertainty, reader.value, 2),
            })}
          </li>
        ))}
      </ul>
      <p class="dim">{t('calibration.outcome')}</p>
    </div>
  );
};

const SingleCorrection = ({ form, draft, onChange }: CalibrationPart) => {
  const field = fieldsOf(form, draft, onChange);
  return (
    <div class="pair">
      <NumberField
        {...field('correction_celsius')}
        label="calibration.correction"
        hint={t('calibration.correction-hint')}
      />
      <NumberField {...field('uncertainty_celsius')} label="calibration.uncertainty" />
    </div>
  );
};

const DueAndPower = ({ form, draft, onChange }: CalibrationPart) => {
  const field = fieldsOf(form, draft, onChange);
  return (
    <>
      <TextField
        {...field('due', 'calibrationDue')}
        label="calibration.due"
        hint={t('calibration.due-hint')}
        type="date"
      />
      <TickField {...field('powersOnAt85')} label="calibration.powers-on" />
    </>
  );
};

export const CalibrationForm = ({ probe, version, onSaved, onCancel }: ProbeFormProps) => {
  const { saving, draft, part } = useForm(FORM_FIELDS.probe, () =>
    calibrationDraft(probe, new Date(now.peek()).toISOString().slice(0, 10)),
  );
  const isCurve = draft.points.length > 0;
  const entry = entryOf(draft);
  const isUsable = !isCurve || (entry !== null && calibrationResult(entry).ok);
  const submit = (): void =>
    void saving.run(
      () => putProbe(probe, version, withCalibration(probe, draft)),
      () => {
        labChanged();
        onSaved(probe);
      },
    );
  return (
    <form onSubmit={submitWith(submit)}>
      <p class="dim">{t('calibration.how')}</p>
      {!isCurve && <SingleCorrection {...part} />}
      <CurvePoints {...part} />
      {isCurve && <CurveFacts {...part} />}
      {entry !== null && <Outcome entry={entry} />}
      <DueAndPower {...part} />
      <SubmitRow saving={saving} label="set-up.save" isFirst isBlocked={!isUsable} onCancel={onCancel} />
    </form>
  );
};
