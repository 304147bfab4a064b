// Alarms of a span: who was notified, what was done, and cause and correction with who signed them. A person signs here.

import { useState } from 'preact/hooks';
import type { CauseRecord, EvidenceExcursion } from '../../../api/evidence.ts';
import { send } from '../../base/api.ts';
import { formatInstant, type Reader } from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { TextEntry } from '../../forms/entries.tsx';
import { SubmitRow, useSaving } from '../../forms/saving.tsx';
import { now } from '../../live/lab-state.ts';
import { session } from '../../live/session.ts';
import { submitWith } from '../../forms/submit-with.ts';

const LONGEST = 1000;

const instant = (at: string, zoned: Reader): string => formatInstant(at, now.peek(), zoned);

const SignForm = (props: { readonly excursion: EvidenceExcursion; readonly onSigned: () => void }) => {
  const { excursion, onSigned } = props;
  const saving = useSaving();
  const [cause, setCause] = useState('');
  const [correction, setCorrection] = useState('');
  if (session.value !== null && !session.value.signedIn)
    return <p class="dim">{t('evidence.person-must-sign')}</p>;
  const path = `/api/alarms/${encodeURIComponent(excursion.id)}/cause`;
  const sign = (): void =>
    void saving.run(
      () => send<readonly CauseRecord[]>(path, { cause, correction }),
      () => {
        setCause('');
        setCorrection('');
        onSigned();
      },
    );
  return (
    <details class="sign-cause">
      <summary>{t(excursion.signed.length === 0 ? 'evidence.sign' : 'evidence.sign-anew')}</summary>
      <form class="sheet-form" onSubmit={submitWith(sign)}>
        <TextEntry
          label="evidence.cause"
          required
          maxLength={LONGEST}
          value={cause}
          onChange={setCause}
          error={saving.errorAt('cause')?.detail ?? null}
        />
        <TextEntry
          label="evidence.correction"
          required
          maxLength={LONGEST}
          value={correction}
          onChange={setCorrection}
          error={saving.errorAt('correction')?.detail ?? null}
        />
        <p class="dim">{t('evidence.sign-explain')}</p>
        <SubmitRow
          saving={saving}
          label="evidence.sign"
          isBlocked={cause.trim() === '' || correction.trim() === ''}
        />
      </form>
    </details>
  );
};

const Signed = ({ excursion, zoned }: { readonly excursion: EvidenceExcursion; readonly zoned: Reader }) => {
  const last = excursion.signed.at(-1);
  if (last === undefined) return <p class="dim">{t('evidence.unsigned')}</p>;
  return (
    <>
      <p>
        {`${t('evidence.cause')}: ${last.cause}`}
        <br />
        {`${t('evidence.correction')}: ${last.correction}`}
        <br />
        <span class="dim">
          {t('evidence.signed-by', { by: last.by, signed_at: instant(last.at, zoned) })}
        </span>
      </p>
      {excursion.signed.slice(0, -1).map(({ at, ...earlier }) => (
        <p key={at} class="dim">
          {t('evidence.superseded', { ...earlier, signed_at: instant(at, zoned) })}
        </p>
      ))}
    </>
  );
};

export const Excursions = (props: {
  readonly excursions: readonly EvidenceExcursion[];
  readonly zoned: Reader;
  readonly onSigned: () => void;
}) => {
  const { excursions, zoned, onSigned } = props;
  if (excursions.length === 0) return <p>{t('evidence.excursions-none')}</p>;
  return (
    <ul class="sheet-alarms">
      {excursions.map((excursion) => {
        const notified = excursion.notices.map(
          ({ at, to, channel, state }) =>
            `${to}: ${word('outbox-channel', channel)}, ${word('outbox-state', state)}, ${instant(at, zoned)}`,
        );
        const acts = excursion.acts.map(
          ({ at, by, kind, reason }) =>
            `${by}: ${word('change', kind)}, ${instant(at, zoned)}${reason === null ? '' : ` (${reason})`}`,
        );
        const end =
          excursion.clearedAt === null ? t('evidence.still-on') : instant(excursion.clearedAt, zoned);
        return (
          <li key={excursion.id}>
            <p>
              <strong>{excursion.message}</strong>
              <br />
              {`${instant(excursion.raisedAt, zoned)} – ${end}`}
            </p>
            <p>{`${t('evidence.notified')}: ${notified.join('; ') || t('evidence.nobody-notified')}`}</p>
            <p>{`${t('evidence.acts')}: ${acts.join('; ') || t('evidence.nobody-acted')}`}</p>
            <Signed excursion={excursion} zoned={zoned} />
            <SignForm excursion={excursion} onSigned={onSigned} />
          </li>
        );
      })}
    </ul>
  );
};
