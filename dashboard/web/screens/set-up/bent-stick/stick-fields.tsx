// One stick: where it lay, and how far it had opened after how many hours.

import { useId } from 'preact/hooks';
import { ActButton } from '../../../base/act-button.tsx';
import { unitMark } from '../../../base/format.ts';
import { t } from '../../../base/messages.ts';
import { TextEntry } from '../../../forms/entries.tsx';
import type { SchemaForm } from '../../../forms/schema-fields.tsx';
import { changeDraft, changeStick, draft, FEWEST_STICKS } from './draft.ts';

interface StickFieldsProps {
  readonly form: SchemaForm;
  readonly index: number;
  /** What is wrong with it, in words; empty when nothing is. */
  readonly wrong: string;
}

export const StickFields = ({ form, index, wrong }: StickFieldsProps) => {
  const id = useId();
  const stick = draft.value.sticks[index];
  if (stick === undefined) return null;
  const name = t('bent-stick.stick', { number: index + 1 });
  return (
    <fieldset class="stick">
      <legend>{name}</legend>
      <TextEntry
        label="bent-stick.temperature"
        labelText={t('bent-stick.temperature', { unit: unitMark(draft.value.unit) })}
        isDecimal
        value={stick.temperature}
        onChange={(temperature) => changeStick(index, { temperature })}
        error={form.saving.errorAt(`sticks/${index}/celsius`)?.detail ?? null}
      />
      <p class="field">
        <label for={`${id}-readings`}>{t('bent-stick.readings')}</label>
        <textarea
          id={`${id}-readings`}
          rows={8}
          spellcheck={false}
          value={stick.readings}
          aria-describedby={`${id}-wrong`}
          onInput={(event) => changeStick(index, { readings: event.currentTarget.value })}
        />
      </p>
      <p id={`${id}-wrong`} class="stick-wrong" role="status">
        {wrong}
      </p>
      {draft.value.sticks.length > FEWEST_STICKS && (
        <ActButton
          text={t('bent-stick.remove', { number: index + 1 })}
          onClick={() => changeDraft({ sticks: draft.value.sticks.filter((_, i) => i !== index) })}
        />
      )}
    </fieldset>
  );
};
