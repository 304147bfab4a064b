// How long readings stay, with what that deletes and when; readings that the store refused; copies of the data.

import { useState } from 'preact/hooks';
import type { ExpiringView, RetentionBody, StoredReadingsView } from '../../../api/stored-readings.ts';
import { ActButton } from '../../base/act-button.tsx';
import { asRead, put, send } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatNumber, formatTemperature } from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { OpenedForm } from '../../forms/opened-form.tsx';
import { Refusal, SubmitRow, useSaving } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { noteDone } from '../../forms/undo.tsx';
import { reader } from '../../live/lab-state.ts';
import { useLoaded } from '../../live/use-loaded.ts';
import { submitWith } from '../../forms/submit-with.ts';
import { instantText } from '../../live/instant-text.ts';

const ADDRESS = '/api/stored-readings';
type Kinds = RetentionBody['kinds'];
type KindRow = Kinds[number];
type Retention = NonNullable<StoredReadingsView['retention']>;

/** Days; null is for ever. */
const CHOICES: readonly (number | null)[] = [null, 3650, 1825, 730, 365, 180, 90, 40];

const daysText = (days: number | null): string =>
  days === null ? t('stored.for-ever') : t('stored.days', { days });

const Days = (props: {
  readonly label: string;
  readonly value: number | null;
  readonly onChange: (days: number | null) => void;
}) => {
  const choices = CHOICES.includes(props.value) ? CHOICES : [...CHOICES, props.value];
  return (
    <div class="field">
      <select
        aria-label={props.label}
        value={String(props.value)}
        onChange={({ currentTarget: { value } }) => props.onChange(value === 'null' ? null : Number(value))}
      >
        {choices.map((days) => (
          <option key={days} value={String(days)}>
            {daysText(days)}
          </option>
        ))}
      </select>
    </div>
  );
};

/** The figures of hours never go before the readings. */
const withReadings = (row: KindRow, readingsDays: number | null): KindRow => ({
  ...row,
  readingsDays,
  hoursDays:
    row.hoursDays !== null && (readingsDays === null || row.hoursDays < readingsDays)
      ? readingsDays
      : row.hoursDays,
});
const withHours = (row: KindRow, hoursDays: number | null): KindRow => ({
  ...row,
  hoursDays:
    hoursDays !== null && (row.readingsDays === null || hoursDays < row.readingsDays)
      ? row.readingsDays
      : hoursDays,
});

const Expiring = ({ rows }: { readonly rows: ExpiringView }) => (
  <DataTable
    none={t('stored.deletes-nothing')}
    rows={rows}
    keyOf={({ probe }) => probe}
    columns={{
      [t('stored.probe')]: ({ probe }) => probe,
      [t('stored.kind')]: ({ kind }) => (kind === null ? '–' : word('kind', kind)),
      [t('stored.readings')]: { figures: ({ readings }) => formatNumber(readings, 0, reader.value) },
      [t('stored.oldest')]: ({ oldest }) => (oldest === null ? '–' : instantText(oldest)),
    }}
  />
);

const RetentionForm = (props: {
  readonly before: Retention;
  readonly version: number | null;
  readonly onSaved: () => void;
}) => {
  const [kinds, setKinds] = useState<Kinds>(props.before.kinds);
  const [preview, setPreview] = useState<ExpiringView | null>(null);
  const saving = useSaving();
  const change = (row: KindRow): void => {
    const changed = kinds.map((before) => (before.kind === row.kind ? row : before));
    setKinds(changed);
    void saving.run(() => send<ExpiringView>(`${ADDRESS}/preview`, { kinds: changed }), setPreview);
  };
  const save = (): void => {
    void saving.run(
      () => put<StoredReadingsView>(`${ADDRESS}/retention`, { kinds }, asRead(props.version)),
      () => {
        noteDone(t('stored.saved'));
        setPreview(null);
        props.onSaved();
      },
    );
  };
  return (
    <form onSubmit={submitWith(save)}>
      <DataTable
        rows={kinds}
        keyOf={(row) => row.kind}
        columns={{
          [t('stored.kind')]: (row) => word('kind', row.kind),
          [t('stored.readings-stay')]: (row) => (
            <Days
              label={`${word('kind', row.kind)}: ${t('stored.readings-stay')}`}
              value={row.readingsDays}
              onChange={(days) => change(withReadings(row, days))}
            />
          ),
          [t('stored.hours-stay')]: (row) => (
            <Days
              label={`${word('kind', row.kind)}: ${t('stored.hours-stay')}`}
              value={row.hoursDays}
              onChange={(days) => change(withHours(row, days))}
            />
          ),
        }}
      />
      <h3>{t('stored.deletes')}</h3>
      {props.before.beginsAt !== null && preview === null && (
        <p>{t('stored.begins', { at: instantText(props.before.beginsAt) })}</p>
      )}
      {preview !== null && <p>{t('stored.begins-in-a-day')}</p>}
      <Expiring rows={preview ?? props.before.expiring} />
      <SubmitRow saving={saving} label="stored.save" isBlocked={preview === null} />
    </form>
  );
};

const Refused = (props: { readonly rows: StoredReadingsView['refused']; readonly onSent: () => void }) => {
  const saving = useSaving();
  if (props.rows.length === 0) return <p>{t('stored.refused-none')}</p>;
  return (
    <>
      <DataTable
        rows={props.rows}
        keyOf={({ probe, at }) => `${probe} ${at}`}
        columns={{
          [t('stored.probe')]: ({ probe }) => probe,
          [t('stored.at')]: ({ at }) => instantText(at),
          [t('stored.value')]: { figures: ({ celsius }) => formatTemperature(celsius, reader.value) },
          [t('stored.reason')]: ({ reason }) => reason,
        }}
      />
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      <p class="row">
        <ActButton
          text={t('stored.send-again')}
          disabled={saving.busy}
          onClick={() =>
            void saving.run(
              () => send<{ readonly count: number }>(`${ADDRESS}/send-again`),
              ({ count }) => {
                noteDone(t('stored.sent-again', { count }));
                props.onSent();
              },
            )
          }
        />
      </p>
    </>
  );
};

const Copies = ({ rows }: { readonly rows: StoredReadingsView['copies'] }) => (
  <DataTable
    none={t('stored.copies-none')}
    rows={rows}
    keyOf={({ at }) => at}
    columns={{
      [t('stored.at')]: ({ at }) => instantText(at),
      [t('stored.file')]: ({ file }) => file,
      [t('stored.outcome')]: ({ megabytes, fault }) =>
        fault ?? t('stored.megabytes', { megabytes: megabytes ?? 0 }),
    }}
  />
);

/** A month sheet and patterns that wait go back as far. */
const FEWEST_DAYS = 40;

const ServerRetention = ({ retention }: { readonly retention: StoredReadingsView['serverRetention'] }) => {
  const days = retention?.days ?? null;
  return (
    <>
      <p>
        {t('stored.retention-elsewhere', {
          server: retention?.server ?? '',
          keeps: retention?.keeps ?? 'unknown',
          days: days ?? 0,
        })}
      </p>
      {days !== null && days < FEWEST_DAYS && <p role="note">{t('stored.retention-short')}</p>}
    </>
  );
};

export default function StoredReadings() {
  const stored = useLoaded<StoredReadingsView>(ADDRESS);
  const retention = stored.value?.retention ?? null;
  return (
    <SetUpPage heading="stored.title" explain="stored.explain" needs="set-up-lab">
      <Refusal trouble={stored.trouble} retry={stored.reload} />
      {stored.value !== null && (
        <>
          <h2>{t('stored.retention')}</h2>
          {retention === null ? (
            <ServerRetention retention={stored.value.serverRetention} />
          ) : (
            <OpenedForm newest={stored.version}>
              {({ version }) => (
                <RetentionForm before={retention} version={version} onSaved={stored.reload} />
              )}
            </OpenedForm>
          )}
          <h2>{t('stored.refused')}</h2>
          <Refused rows={stored.value.refused} onSent={stored.reload} />
          <h2>{t('stored.copies')}</h2>
          <Copies rows={stored.value.copies} />
        </>
      )}
    </SetUpPage>
  );
}
