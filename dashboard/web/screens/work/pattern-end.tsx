// A pattern that comes to nothing: remade or discarded, and why.

import { useId, useState } from 'preact/hooks';
import { FATES } from '../../../../lab/pattern.ts';
import { t, word } from '../../base/messages.ts';

export const EndForm = (props: {
  readonly busy: boolean;
  readonly onEnd: (fate: string, reason: string) => void;
}) => {
  const id = useId();
  const [fate, setFate] = useState<string>('remade');
  const [reason, setReason] = useState('');
  return (
    <form
      class="work-form"
      onSubmit={(event) => {
        event.preventDefault();
        props.onEnd(fate, reason.trim());
      }}
    >
      <fieldset class="row">
        <legend>{t('work.end')}</legend>
        {FATES.filter((choice) => choice !== 'invested').map((choice) => (
          <button
            key={choice}
            type="button"
            class="act"
            aria-pressed={fate === choice}
            onClick={() => setFate(choice)}
          >
            {word('fate', choice)}
          </button>
        ))}
      </fieldset>
      <p class="field">
        <label for={id}>{t('work.reason')}</label>
        <input
          id={id}
          value={reason}
          required
          maxLength={500}
          onInput={(event) => setReason(event.currentTarget.value)}
        />
      </p>
      <p>
        <button type="submit" class="act" disabled={props.busy || reason.trim() === ''}>
          {t('work.end-now')}
        </button>
      </p>
    </form>
  );
};
