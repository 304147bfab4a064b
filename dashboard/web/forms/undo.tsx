// What was just done, and the way back. It stays until the next thing is done or the screen is left.

import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ActButton } from '../base/act-button.tsx';
import type { Answer } from '../base/api.ts';
import { t } from '../base/messages.ts';
import { labChanged } from '../live/use-loaded.ts';
import { Refusal, useSaving } from './saving.tsx';

interface Done {
  readonly text: string;
  readonly undo?: () => Promise<Answer<unknown>>;
}

const done = signal<Done | null>(null);

export const noteDone = (text: string, undo?: Done['undo']): void => {
  done.value = { text, ...(undo === undefined ? {} : { undo }) };
};

/** One after the other, ending at the first that is refused. */
export const inTurn = async (
  steps: readonly (() => Promise<Answer<unknown>>)[],
): Promise<Answer<unknown>> => {
  let answer: Answer<unknown> = { ok: true, value: null };
  for (const step of steps) {
    answer = await step();
    if (!answer.ok) break;
  }
  return answer;
};

export const DoneNote = () => {
  const saving = useSaving();
  useEffect(
    () => () => {
      done.value = null;
    },
    [],
  );
  const { text, undo } = done.value ?? {};
  return (
    <div class="done" role="status" data-shown={text !== undefined}>
      {text !== undefined && <span>{text}</span>}
      {undo !== undefined && (
        <ActButton
          text={t('undo.act')}
          disabled={saving.busy}
          onClick={() =>
            void saving.run(undo, () => {
              labChanged();
              noteDone(t('undo.done'));
            })
          }
        />
      )}
      <Refusal trouble={saving.refusal} retry={saving.retry} />
    </div>
  );
};
