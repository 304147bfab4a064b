// What waits on this device to be sent, and what was refused meanwhile. Nothing that was done is hidden.

import { ActButton } from '../base/act-button.tsx';
import { t } from '../base/messages.ts';
import { troubleText } from '../live/trouble-note.tsx';
import { waitingActs, withdraw } from '../live/act-queue.ts';
import './work.css';
import { instantText } from '../live/instant-text.ts';

export const WaitingActs = () => {
  const acts = waitingActs.value;
  if (acts.length === 0) return null;
  return (
    <section class="waiting-acts" aria-labelledby="waiting-acts">
      <h2 id="waiting-acts">
        {t('work.waiting')} ({acts.length})
      </h2>
      <p class="dim">{t('work.waiting-explain')}</p>
      <ul>
        {acts.map(({ key, what, at, refusal }) => (
          <li key={key}>
            <span>
              {what} <span class="dim">{instantText(at)}</span>
              {refusal !== undefined && (
                <strong role="alert">{t('work.refused', { why: troubleText(refusal) })}</strong>
              )}
            </span>
            <ActButton text={t('work.withdraw')} onClick={() => withdraw(key)} />
          </li>
        ))}
      </ul>
    </section>
  );
};
