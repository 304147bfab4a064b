// A probe against a reference thermometer: one offset, or two or three temperatures with the curve through them.
// What the entry does to readings, and how sure they then are, is shown before it is saved.

import { useState } from 'preact/hooks';
import { type CalibrationEntry, calibrationResult } from '../../../../lab/calibration-entry.ts';
import { put } from '../../base/api.ts';
import { formatDifference, formatTemperature } from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { now, reader } from '../../live/lab-state.ts';
import { NumberEntry, TemperatureEntry, TextEntry, TickEntry } from '../../forms/entries.tsx';
import { labChanged } from '../../live/use-loaded.ts';
import { type DescribedProbe, probeBody } from './probe-body.ts';
import { Refusal, useSaving } from '../../forms/saving.tsx';

interface Point {
  readonly reading: number | null;
  readonly reference: number | null;
  readonly scatter: number | null;
}
const EMPTY: Point = { reading: null, reference: null, scatter: null };
const HUNDRED = 100;

const pointsOf = (probe: DescribedProbe): readonly Point[] =>
  probe.calibration?.points.map((point) => ({
    reading: point.reading_celsius,
    reference: point.reference_celsius,
    scatter: point.scatter_celsius ?? null,
  })) ?? [];

const Outcome = ({ entry }: { readonly entry: CalibrationEntry }) => {
  const result = calibrationResult(entry);
  if (!result.ok)
    return (
      <p class="refusal" role="alert">
        {word('calibration-problem', result.problem.code)}
      </p>
    );
  return (
    <div class="plate" role="status">
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

export const CalibrationForm = (props: {
  readonly probe: DescribedProbe;
  readonly onSaved: (before: DescribedProbe) => void;
  readonly onCancel: () => void;
}) => {
  const { probe } = props;
  const saving = useSaving();
  const [points, setPoints] = useState<readonly Point[]>(pointsOf(probe));
  const [correction, setCorrection] = useState<number | null>(probe.correction_celsius ?? 0);
  const [uncertainty, setUncertainty] = useState<number | null>(probe.uncertainty_celsius ?? null);
  const [reference, setReference] = useState(probe.calibration?.reference ?? '');
  const [ofReference, setOfReference] = useState<number | null>(
    probe.calibration?.reference_uncertainty_celsius ?? null,
  );
  const [resolution, setResolution] = useState<number | null>(probe.calibration?.resolution_celsius ?? null);
  const [day, setDay] = useState(probe.calibration?.day ?? new Date(now.value).toISOString().slice(0, 10));
  const [due, setDue] = useState(probe.calibrationDue ?? '');
  const [powersOn, setPowersOn] = useState(probe.powersOnAt85 ?? true);
  const isCurve = points.length > 0;
  const whole = points.flatMap(({ reading, reference: truth, scatter }) =>
    reading === null || truth === null
      ? []
      : [
          {
            reading_celsius: reading,
            reference_celsius: truth,
            ...(scatter === null ? {} : { scatter_celsius: scatter }),
          },
        ],
  );
  const entry: CalibrationEntry | null =
    isCurve && whole.length === points.length && ofReference !== null
      ? {
          day,
          points: whole,
          reference_uncertainty_celsius: ofReference,
          ...(reference === '' ? {} : { reference }),
          ...(resolution === null ? {} : { resolution_celsius: resolution }),
        }
      : null;
  const result = entry === null ? null : calibrationResult(entry);
  const change = (index: number, part: Partial<Point>): void =>
    setPoints(points.map((point, at) => (at === index ? { ...point, ...part } : point)));
  const submit = (): void => {
    const { calibration: _, calibrationDue: __, ...rest } = probeBody(probe);
    const ofCurve = result?.ok ? Math.ceil(result.value.uncertainty_celsius * HUNDRED) / HUNDRED : null;
    const known = isCurve ? ofCurve : uncertainty;
    void saving.run(
      () =>
        put(`/api/probes/${probe.id}`, {
          ...rest,
          correction_celsius: isCurve ? 0 : (correction ?? 0),
          ...(known === null ? {} : { uncertainty_celsius: known }),
          ...(entry === null ? {} : { calibration: entry }),
          ...(due === '' ? {} : { calibrationDue: due }),
          powersOnAt85: powersOn,
        }),
      () => {
        labChanged();
        props.onSaved(probe);
      },
    );
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        submit();
      }}
    >
      <p class="dim">{t('calibration.how')}</p>
      {!isCurve && (
        <div class="pair">
          <NumberEntry
            label="calibration.correction"
            hint={t('calibration.correction-hint')}
            min={-20}
            max={20}
            value={correction}
            onChange={setCorrection}
            error={saving.errorAt('correction_celsius')}
          />
          <NumberEntry
            label="calibration.uncertainty"
            min={0}
            max={20}
            value={uncertainty}
            onChange={setUncertainty}
            error={saving.errorAt('uncertainty_celsius')}
          />
        </div>
      )}
      {points.map((point, index) => (
        <fieldset key={`point-${index + 1}`}>
          <legend>{t('calibration.point', { number: index + 1 })}</legend>
          <div class="pair">
            <TemperatureEntry
              label="calibration.reading"
              required
              celsius={point.reading}
              onCelsius={(reading) => change(index, { reading })}
            />
            <TemperatureEntry
              label="calibration.reference-says"
              required
              celsius={point.reference}
              onCelsius={(truth) => change(index, { reference: truth })}
            />
            <NumberEntry
              label="calibration.scatter"
              min={0}
              max={5}
              value={point.scatter}
              onChange={(scatter) => change(index, { scatter })}
            />
          </div>
        </fieldset>
      ))}
      <p class="row">
        {points.length < 3 && (
          <button
            type="button"
            class="act"
            onClick={() => setPoints(isCurve ? [...points, EMPTY] : [EMPTY, EMPTY])}
          >
            {t(isCurve ? 'calibration.third' : 'calibration.several')}
          </button>
        )}
        {isCurve && (
          <button
            type="button"
            class="act"
            onClick={() => setPoints(points.length === 3 ? points.slice(0, 2) : [])}
          >
            {t(points.length === 3 ? 'calibration.drop-third' : 'calibration.single')}
          </button>
        )}
      </p>
      {isCurve && (
        <div class="pair">
          <TextEntry label="calibration.reference" maxLength={80} value={reference} onChange={setReference} />
          <NumberEntry
            label="calibration.reference-uncertainty"
            required
            min={0}
            max={5}
            value={ofReference}
            onChange={setOfReference}
          />
          <NumberEntry
            label="calibration.resolution"
            min={0}
            max={5}
            value={resolution}
            onChange={setResolution}
          />
          <TextEntry label="calibration.day" type="date" required value={day} onChange={setDay} />
        </div>
      )}
      {entry !== null && <Outcome entry={entry} />}
      <TextEntry
        label="calibration.due"
        hint={t('calibration.due-hint')}
        type="date"
        value={due}
        onChange={setDue}
        error={saving.errorAt('calibrationDue')}
      />
      <TickEntry label="calibration.powers-on" checked={powersOn} onChange={setPowersOn} />
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      <p class="row">
        <button
          type="submit"
          class="act"
          data-first="true"
          disabled={saving.busy || (isCurve && result?.ok !== true)}
        >
          {t('set-up.save')}
        </button>
        <button type="button" class="act" onClick={props.onCancel}>
          {t('form.cancel')}
        </button>
      </p>
    </form>
  );
};
