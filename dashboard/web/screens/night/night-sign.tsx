// Notes on the sheet and signatures under it. What is signed is the figures that were read: the server refuses when
// they have changed since.

import { useState } from 'preact/hooks';
import type { NightSheet } from '../../../api/night.ts';
import { send, type Trouble, worded } from '../../base/api.ts';
import { formatDay, formatTime, type Reader } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { mayDo } from '../../live/session.ts';
import { troubleText } from '../../live/trouble-note.tsx';

interface SignProps {
  readonly sheet: NightSheet;
  readonly zoned: Reader;
  readonly onSheet: (sheet: NightSheet) => void;
}

export const NightSign = ({ sheet, zoned, onSheet }: SignProps) => {
  const [text, setText] = useState('');
  const [busy, setBusy] = useState(false);
  const [refused, setRefused] = useState<Trouble | null>(null);
  const at = (instant: string) => `${formatDay(instant, zoned)}, ${formatTime(instant, zoned)}`;
  const act = async (kind: 'note' | 'sign', body: object): Promise<void> => {
    setBusy(true);
    const answer = await send<NightSheet>(worded(`/api/night/${sheet.date}/${kind}`), body);
    setBusy(false);
    setRefused(answer.ok ? null : answer.trouble);
    if (!answer.ok) return;
    if (kind === 'note') setText('');
    onSheet(answer.value);
  };
  return (
    <section>
      <h2>{t('night.notes')}</h2>
      <ul>
        {sheet.notes.map((note) => (
          <li key={`${note.at}${note.text}`}>
            {note.text} <span class="dim">{`${note.by}, ${at(note.at)}`}</span>
          </li>
        ))}
      </ul>
      {mayDo('tend-patterns') && (
        <form
          class="sheet-form"
          onSubmit={(event) => {
            event.preventDefault();
            void act('note', { text });
          }}
        >
          <label class="field">
            {t('night.note')}
            <textarea
              rows={2}
              maxLength={1000}
              required
              value={text}
              onInput={({ currentTarget }) => setText(currentTarget.value)}
            />
          </label>
          <p class="row">
            <button type="submit" class="act" disabled={busy || text.trim() === ''}>
              {t('night.note-save')}
            </button>
          </p>
        </form>
      )}
      <h2>{t('night.signed')}</h2>
      <ul>
        {sheet.signatures.map((one) => (
          <li key={`${one.at}${one.by}`}>
            <strong>{one.by}</strong>
            {`, ${at(one.at)} `}
            {!one.holds && <span>{t('night.changed-since')}</span>}
          </li>
        ))}
      </ul>
      {mayDo('tend-patterns') && (
        <p class="row sheet-form">
          <button
            type="button"
            class="act"
            data-first="true"
            disabled={busy || !sheet.isOver}
            onClick={() => void act('sign', { figures: sheet.figures })}
          >
            {t('night.sign')}
          </button>
          {!sheet.isOver && <span>{t('night.sign-later')}</span>}
        </p>
      )}
      {refused && <p role="alert">{troubleText(refused)}</p>}
      <div class="sign-lines" aria-hidden="true">
        <span>{t('night.sign-here')}</span>
        <span>{t('night.date-here')}</span>
      </div>
      <p class="dim">{t('night.advises')}</p>
    </section>
  );
};
