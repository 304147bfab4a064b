// What is entered before an alarm is shelved or a note is written: a text, and for how long.

import { useState } from 'preact/hooks';
import { FORM_FIELDS } from '../../../../api/form-fields.ts';
import { ActButton } from '../../../base/act-button.tsx';
import { t } from '../../../base/messages.ts';
import { ChoiceEntry } from '../../../forms/entries.tsx';
import type { Saving } from '../../../forms/saving.tsx';
import { TextField } from '../../../forms/schema-fields.tsx';
import { submitWith } from '../../../forms/submit-with.ts';

/** The server's limit is eight hours. */
const SHELF_HOURS = [0.5, 1, 2, 4, 8] as const;

const hoursText = (hours: number): string =>
  hours < 1 ? t('alarm.minutes', { count: hours * 60 }) : t('alarm.hours', { count: hours });

interface AlarmFormProps {
  readonly kind: 'shelve' | 'note';
  readonly busy: boolean;
  readonly onDone: (text: string, hours: number) => void;
  readonly onCancel: () => void;
  /** What was refused of the field at this path. */
  readonly errorAt: Saving['errorAt'];
}

export const AlarmForm = ({ kind, busy, onDone, onCancel, errorAt }: AlarmFormProps) => {
  const form = { fields: FORM_FIELDS[kind], saving: { errorAt } };
  const [text, setText] = useState('');
  const [hours, setHours] = useState<number>(1);
  return (
    <form
      class="alarm-form"
      onSubmit={submitWith(() => onDone(text.trim(), hours))}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onCancel();
      }}
    >
      {kind === 'shelve' ? (
        <>
          <TextField form={form} at="reason" label="alarm.reason" hasFocus value={text} onChange={setText} />
          <ChoiceEntry
            label="alarm.shelve-for"
            value={String(hours)}
            options={SHELF_HOURS.map((each) => [String(each), hoursText(each)] as const)}
            onChange={(chosen) => setHours(Number(chosen))}
            error={errorAt('until')?.detail ?? null}
          />
        </>
      ) : (
        <TextField form={form} at="text" label="alarm.note-text" hasFocus value={text} onChange={setText} />
      )}
      <p class="row">
        <ActButton
          text={t(kind === 'shelve' ? 'alarm.shelve' : 'alarm.note-save')}
          isFirst
          disabled={busy || text.trim() === ''}
        />
        <ActButton text={t('form.cancel')} onClick={onCancel} />
      </p>
    </form>
  );
};
