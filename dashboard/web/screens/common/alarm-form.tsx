// What is asked before an alarm is shelved or a note is written: a text, and for how long.

import { useId, useState } from 'preact/hooks';
import { type MessageKey, t } from '../../base/messages.ts';

/** The server's limit is eight hours. */
const SHELF_HOURS = [0.5, 1, 2, 4, 8] as const;

const hoursText = (hours: number): string =>
  hours < 1 ? t('alarm.minutes', { count: hours * 60 }) : t('alarm.hours', { count: hours });

interface AlarmFormProps {
  readonly kind: 'shelve' | 'note';
  readonly busy: boolean;
  readonly onDone: (text: string, hours: number) => void;
  readonly onCancel: () => void;
}

const Duration = (props: { readonly hours: number; readonly onChange: (hours: number) => void }) => {
  const id = useId();
  return (
    <p class="field">
      <label for={id}>{t('alarm.shelve-for')}</label>
      <select
        id={id}
        value={props.hours}
        onChange={(event) => props.onChange(Number(event.currentTarget.value))}
      >
        {SHELF_HOURS.map((hours) => (
          <option key={hours} value={hours}>
            {hoursText(hours)}
          </option>
        ))}
      </select>
    </p>
  );
};

export const AlarmForm = ({ kind, busy, onDone, onCancel }: AlarmFormProps) => {
  const id = useId();
  const [text, setText] = useState('');
  const [hours, setHours] = useState<number>(1);
  const label: MessageKey = kind === 'shelve' ? 'alarm.reason' : 'alarm.note-text';
  return (
    <form
      class="alarm-form"
      onSubmit={(event) => {
        event.preventDefault();
        onDone(text.trim(), hours);
      }}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onCancel();
      }}
    >
      <p class="field">
        <label for={id}>{t(label)}</label>
        <input
          id={id}
          value={text}
          required
          maxLength={500}
          ref={(element) => {
            if (element && text === '') element.focus();
          }}
          onInput={(event) => setText(event.currentTarget.value)}
        />
      </p>
      {kind === 'shelve' && <Duration hours={hours} onChange={setHours} />}
      <p class="row">
        <button type="submit" class="act" data-first="true" disabled={busy || text.trim() === ''}>
          {t(kind === 'shelve' ? 'alarm.shelve' : 'alarm.note-save')}
        </button>
        <button type="button" class="act" onClick={onCancel}>
          {t('form.cancel')}
        </button>
      </p>
    </form>
  );
};
