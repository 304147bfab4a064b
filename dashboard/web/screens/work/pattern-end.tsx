// A pattern that comes to nothing: remade or discarded, and why.

import { useState } from 'preact/hooks';
import { FATES } from '../../../../lab/pattern.ts';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import { ActButton } from '../../base/act-button.tsx';
import { t, word } from '../../base/messages.ts';
import type { Saving } from '../../forms/saving.tsx';
import { TextField } from '../../forms/schema-fields.tsx';
import { submitWith } from '../../forms/submit-with.ts';

export const EndForm = (props: {
  readonly busy: boolean;
  readonly onEnd: (fate: string, reason: string) => void;
  readonly errorAt: Saving['errorAt'];
}) => {
  const form = { fields: FORM_FIELDS['end-pattern'], saving: props };
  const [fate, setFate] = useState<string>('remade');
  const [reason, setReason] = useState('');
  return (
    <form class="work-form" onSubmit={submitWith(() => props.onEnd(fate, reason.trim()))}>
      <fieldset class="row">
        <legend>{t('work.end')}</legend>
        {FATES.filter((choice) => choice !== 'invested').map((choice) => (
          <ActButton
            key={choice}
            text={word('fate-act', choice)}
            isPressed={fate === choice}
            onClick={() => setFate(choice)}
          />
        ))}
      </fieldset>
      <TextField form={form} at="reason" label="work.reason" value={reason} onChange={setReason} />
      <p>
        <ActButton text={t('work.end-now')} disabled={props.busy || reason.trim() === ''} />
      </p>
    </form>
  );
};
