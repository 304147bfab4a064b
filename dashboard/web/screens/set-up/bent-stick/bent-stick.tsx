// The lab's own bent-stick test: written down over days, fitted, judged, and put in as the lab's own values.

import { useSignalEffect } from '@preact/signals';
import { useState } from 'preact/hooks';
import { FORM_FIELDS } from '../../../../api/form-fields.ts';
import type { BentStickBody, BentStickView } from '../../../../api/bent-stick.ts';
import type { WaxClassView } from '../../../../api/lab-bodies.ts';
import { ActButton } from '../../../base/act-button.tsx';
import { send, type Trouble } from '../../../base/api.ts';
import type { Reader } from '../../../base/format.ts';
import { t, waxName } from '../../../base/messages.ts';
import { ChoiceEntry } from '../../../forms/entries.tsx';
import { refusedField } from '../../../forms/refused-field.ts';
import { fieldsOf, type SchemaForm, TextField } from '../../../forms/schema-fields.tsx';
import { TroubleNote, troubleText } from '../../../live/trouble-note.tsx';
import { useLoaded } from '../../../live/use-loaded.ts';
import { SetUpPage } from '../../../forms/set-up-page.tsx';
import { changeDraft, clearDraft, draft, MOST_STICKS, type StickDraft } from './draft.ts';
import { FitResult } from './fit-result.tsx';
import { numberIn, openingsIn } from './opening-text.ts';
import { StickFields } from './stick-fields.tsx';
import './bent-stick.css';
import { submitWith } from '../../../forms/submit-with.ts';

const inCelsius = (value: number, unit: Reader['unit']): number =>
  unit === 'celsius' ? value : (value - 32) / 1.8;

/** Words for what is wrong with a stick as it is typed; empty when nothing is. */
const wrongWith = ({ temperature, readings }: StickDraft): string => {
  const openings = openingsIn(readings);
  if (!openings.ok) return t('bent-stick.wrong-line', { line: openings.line });
  if (openings.openings.length > 0 && numberIn(temperature) === null)
    return t('bent-stick.wrong-temperature');
  return '';
};

const bodyOf = (): BentStickBody => {
  const { sticks, readingError, unit } = draft.value;
  const error = numberIn(readingError);
  return {
    sticks: sticks.map(({ temperature, readings }) => {
      const found = openingsIn(readings);
      return {
        celsius: inCelsius(numberIn(temperature) ?? Number.NaN, unit),
        openings: found.ok ? [...found.openings] : [],
      };
    }),
    ...(error === null ? {} : { readingError: error }),
  };
};

export default function BentStick() {
  const { value, trouble } = useLoaded<readonly WaxClassView[]>('/api/wax-classes');
  const waxes = value ?? [];
  const [fit, setFit] = useState<BentStickView | null>(null);
  const [refusal, setRefusal] = useState<Trouble | null>(null);
  const [busy, setBusy] = useState(false);
  // What is shown must follow from what is in the fields.
  useSignalEffect(() => {
    draft.value;
    setFit((before) => (before?.applied ? before : null));
    setRefusal(null);
  });
  const form: SchemaForm = {
    fields: FORM_FIELDS['bent-stick'],
    saving: { errorAt: (path) => refusedField(refusal, path) },
  };
  const { sticks, wax } = draft.value;
  const chosen = wax === '' ? (waxes[0]?.id ?? '') : wax;
  const wrong = sticks.map(wrongWith);
  const isComplete =
    wrong.every((text) => text === '') && sticks.every(({ readings }) => readings.trim() !== '');
  const ask = async (more: Pick<BentStickBody, 'apply' | 'reason'> = {}): Promise<void> => {
    setBusy(true);
    const door = `/api/wax-classes/${encodeURIComponent(chosen)}/bent-stick`;
    const answer = await send<BentStickView>(door, { ...bodyOf(), ...more });
    setBusy(false);
    setRefusal(answer.ok ? null : answer.trouble);
    if (!answer.ok) return;
    setFit(answer.value);
    if (answer.value.applied) clearDraft();
  };
  if (value === null && trouble) return <TroubleNote trouble={trouble} />;
  return (
    <SetUpPage heading="bent-stick.title" explain="bent-stick.explain" needs="set-up-lab">
      <div class="bent-stick">
        <p class="caution">{t('caution.heater')}</p>
        <form class="bent-stick-fields" onSubmit={submitWith(ask)}>
          <ChoiceEntry
            label="bent-stick.wax"
            value={chosen}
            options={waxes.map((each) => [each.id, waxName(each)] as const)}
            onChange={(id) => changeDraft({ wax: id })}
          />
          <p class="dim">{t('bent-stick.readings-explain')}</p>
          <div class="sticks">
            {sticks.map((_, index) => (
              <StickFields key={String(index)} form={form} index={index} wrong={wrong[index] ?? ''} />
            ))}
          </div>
          <p class="row">
            <ActButton
              text={t('bent-stick.add')}
              disabled={sticks.length >= MOST_STICKS}
              onClick={() => changeDraft({ sticks: [...sticks, { temperature: '', readings: '' }] })}
            />
          </p>
          <TextField
            {...fieldsOf(form, draft.value, changeDraft)('readingError')}
            label="bent-stick.reading-error"
            isDecimal
          />
          <p class="row">
            <ActButton text={t('bent-stick.fit')} isFirst disabled={busy || !isComplete} />
            {!isComplete && <span class="dim">{t('bent-stick.incomplete')}</span>}
          </p>
          {refusal && <p role="alert">{troubleText(refusal)}</p>}
        </form>
        {fit && (
          <FitResult
            fit={fit}
            busy={busy}
            form={form}
            onApply={(reason) => void ask({ apply: true, ...(reason === '' ? {} : { reason }) })}
          />
        )}
      </div>
    </SetUpPage>
  );
}
