// Notes on the sheet and signatures under it. What is signed is the figures that were read: the server refuses when
// they have changed since.

import { useState } from 'preact/hooks';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import type { NightSheet } from '../../../api/night.ts';
import { ActButton } from '../../base/act-button.tsx';
import { send, type Trouble, addReaderSettings } from '../../base/api.ts';
import { formatDay, formatTime, type Reader } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { fieldAt } from '../../forms/field-at.ts';
import { mayDo, session } from '../../live/session.ts';
import { troubleText } from '../../live/trouble-note.tsx';
import { submitWith } from '../../forms/submit-with.ts';

const NOTE = fieldAt(FORM_FIELDS['night-note'], 'text');

interface SheetProps {
  readonly sheet: NightSheet;
  readonly zoned: Reader;
}

const instantText = (at: string, zoned: Reader): string =>
  `${formatDay(at, zoned)}, ${formatTime(at, zoned)}`;

const NoteForm = (props: {
  readonly busy: boolean;
  /** Whether the note was taken. */
  readonly onNote: (text: string) => Promise<boolean>;
}) => {
  const [text, setText] = useState('');
  return (
    <form
      class="sheet-form"
      onSubmit={submitWith(() => {
        void props.onNote(text).then((isTaken) => {
          if (isTaken) setText('');
        });
      })}
    >
      <label class="field">
        {t('night.note')}
        <textarea
          rows={2}
          {...(NOTE.maxLength !== undefined && { maxLength: NOTE.maxLength })}
          required
          value={text}
          onInput={({ currentTarget }) => setText(currentTarget.value)}
        />
      </label>
      <p class="row">
        <ActButton text={t('night.note-save')} disabled={props.busy || text.trim() === ''} />
      </p>
    </form>
  );
};

const Notes = ({ sheet, zoned }: SheetProps) => (
  <ul>
    {sheet.notes.map(({ at, by, text }) => (
      <li key={`${at}${text}`}>
        {text} <span class="dim">{`${by}, ${instantText(at, zoned)}`}</span>
      </li>
    ))}
  </ul>
);

const Signatures = ({ sheet, zoned }: SheetProps) => (
  <ul>
    {sheet.signatures.map(({ at, by, holds, figures: digest }) => (
      <li key={`${at}${by}`}>
        <strong>{by}</strong>
        {`, ${instantText(at, zoned)} `}
        {!holds && <span class="digest">{t('night.changed-since', { digest })}</span>}
      </li>
    ))}
  </ul>
);

export const NightSign = ({
  sheet,
  zoned,
  onSheet,
}: SheetProps & { readonly onSheet: (sheet: NightSheet) => void }) => {
  const [busy, setBusy] = useState(false);
  const [refused, setRefused] = useState<Trouble | null>(null);
  const act = async (kind: 'note' | 'sign', body: object): Promise<boolean> => {
    setBusy(true);
    const answer = await send<NightSheet>(addReaderSettings(`/api/night/${sheet.date}/${kind}`), body);
    setBusy(false);
    setRefused(answer.ok ? null : answer.trouble);
    if (answer.ok) onSheet(answer.value);
    return answer.ok;
  };
  const maySign = mayDo('tend-patterns');
  const hasSigned = sheet.signatures.some(({ by, holds }) => holds && by === session.value?.name);
  return (
    <section>
      <h2>{t('night.notes')}</h2>
      <Notes sheet={sheet} zoned={zoned} />
      {maySign && <NoteForm busy={busy} onNote={(text) => act('note', { text })} />}
      <h2>{t('night.signed')}</h2>
      <Signatures sheet={sheet} zoned={zoned} />
      <p class="dim digest">{t('night.digest', { digest: sheet.figures })}</p>
      {maySign && !hasSigned && (
        <p class="row sheet-form">
          <ActButton
            text={t('night.sign')}
            isFirst
            disabled={busy || !sheet.isOver}
            onClick={() => void act('sign', { figures: sheet.figures })}
          />
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
