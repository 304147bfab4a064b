// What a person does with a pattern: move it, end it with a reason, undo that.

import { useId, useState } from 'preact/hooks';
import { FATES } from '../../../../lab/pattern.ts';
import type { PatternView } from '../../../api/patterns.ts';
import { t, word } from '../../base/messages.ts';
import { now } from '../../live/lab-state.ts';
import { ActAnswer } from '../../forms/act-answer.tsx';
import { PrintLabel } from './label.tsx';
import { storagePlaces } from './register.tsx';
import { useAct } from '../../forms/use-act.ts';

interface ActsProps {
  readonly pattern: PatternView;
  readonly onChange: (next: PatternView) => void;
}

const EndForm = (props: {
  readonly busy: boolean;
  readonly onEnd: (fate: string, reason: string) => void;
}) => {
  const id = useId();
  const [fate, setFate] = useState<string>('invested');
  const [reason, setReason] = useState('');
  return (
    <form
      class="work-form"
      onSubmit={(event) => {
        event.preventDefault();
        props.onEnd(fate, reason.trim() === '' ? word('fate', fate) : reason.trim());
      }}
    >
      <fieldset class="row">
        <legend>{t('work.end')}</legend>
        {FATES.map((choice) => (
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
          required={fate !== 'invested'}
          maxLength={500}
          onInput={(event) => setReason(event.currentTarget.value)}
        />
      </p>
      <p>
        <button
          type="submit"
          class="act"
          data-first="true"
          disabled={props.busy || (fate !== 'invested' && reason.trim() === '')}
        >
          {t('work.end-now')}
        </button>
      </p>
    </form>
  );
};

export const PatternActs = ({ pattern, onChange }: ActsProps) => {
  const { act, busy, refusal, isKept } = useAct();
  const path = `/api/patterns/${pattern.id}`;
  const done = async (verb: string, body: object, what: string): Promise<void> => {
    const next = await act<PatternView>(`${path}/${verb}`, body, `${pattern.caseReference}: ${what}`);
    if (next !== null) onChange(next);
  };
  return (
    <section class="work-acts no-print">
      {pattern.fate === null ? (
        <>
          <fieldset class="row">
            <legend>{t('work.move')}</legend>
            {storagePlaces().map(({ id, name }) => (
              <button
                key={id}
                type="button"
                class="act"
                aria-pressed={id === pattern.station}
                disabled={busy || id === pattern.station}
                onClick={() =>
                  void done(
                    'move',
                    { station: id, at: new Date(now.peek()).toISOString() },
                    `${t('work.move')} ${name}`,
                  )
                }
              >
                {name}
              </button>
            ))}
          </fieldset>
          <EndForm
            busy={busy}
            onEnd={(fate, reason) => void done('end', { fate, reason }, word('fate', fate))}
          />
        </>
      ) : (
        <button
          type="button"
          class="act"
          disabled={busy}
          onClick={() => void done('resume', { reason: t('work.resume-reason') }, t('work.resume'))}
        >
          {t('work.resume')}
        </button>
      )}
      <PrintLabel />
      <ActAnswer refusal={refusal} isKept={isKept} />
    </section>
  );
};
