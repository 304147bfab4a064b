// The audit trail: who changed what, when, from where and why; and whether the chain still holds.

import { useState } from 'preact/hooks';
import { type AuditEntity, AUDIT_ENTITIES } from '../../../api/audit-entities.ts';
import type { AuditRowView, AuditVerification } from '../../../api/audit.ts';
import { ActButton } from '../../base/act-button.tsx';
import { read } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatDay, formatTime } from '../../base/format.ts';
import { ruleName, t, word } from '../../base/messages.ts';
import { instantText } from '../../live/instant-text.ts';
import { stationName } from '../../live/lab-stations.ts';
import { reader } from '../../live/lab-state.ts';
import { ChoiceEntry } from '../../forms/entries.tsx';
import { useLoaded } from '../../live/use-loaded.ts';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { changedFields } from '../../../api/changed-fields.ts';

const PAGE = 50;
const Verify = () => {
  const saving = useSaving();
  const [verified, setVerified] = useState<AuditVerification | null>(null);
  return (
    <div class={verified === null ? 'card no-print' : 'card'}>
      <p class="row">
        <ActButton
          text={t('audit.verify')}
          disabled={saving.busy}
          onClick={() => void saving.run(() => read<AuditVerification>('/api/audit/verify'), setVerified)}
        />
      </p>
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      <div role="status">
        {verified?.ok && (
          <>
            <p>{t('audit.holds', { count: verified.rows })}</p>
            <pre class="secret">
              <code>{verified.head ?? '–'}</code>
            </pre>
            <p class="dim">{t('audit.head')}</p>
          </>
        )}
        {verified?.ok === false && (
          <p class="refusal">{t('audit.broken', { row: verified.brokenAt ?? '?' })}</p>
        )}
      </div>
    </div>
  );
};

const Changes = ({ row }: { readonly row: AuditRowView }) => {
  const fields = changedFields(row.before, row.after);
  if (fields.length === 0) return <>–</>;
  return (
    <details>
      <summary>{t('audit.changes', { count: fields.length })}</summary>
      <dl>
        {fields.map(({ field, before, after }) => (
          <div key={field}>
            <dt class="dim">{field}</dt>
            <dd class="diff">
              {before !== null && <span data-side="removed">{before}</span>}
              {after !== null && <span data-side="added">{after}</span>}
            </dd>
          </div>
        ))}
      </dl>
    </details>
  );
};

/** `{subject}.{rule}.{raised at}`, as the id of an alarm is made. */
const ALARM_ID = /^(.+)\.([a-z-]+)\.(\d+)$/;

/** What was changed, by the name that people know it by; a station with its id, which stays when it is renamed. */
const subjectOf = ({ entity, entityId }: AuditRowView): string => {
  const name = stationName(entityId);
  if (entity === 'station') return name === entityId ? entityId : `${name} (${entityId})`;
  const [, subject, rule, raisedAt] = (entity === 'alarm' && ALARM_ID.exec(entityId)) || [];
  if (subject === undefined || rule === undefined) return entityId;
  return `${stationName(subject)}: ${ruleName(rule)}, ${instantText(Number(raisedAt))}`;
};

export default function AuditTrail() {
  const [entity, setEntity] = useState<AuditEntity | ''>('');
  const filter = entity === '' ? '' : `&entity=${entity}`;
  const first = useLoaded<readonly AuditRowView[]>(`/api/audit?limit=${PAGE}${filter}`);
  const saving = useSaving();
  const [older, setOlder] = useState<readonly AuditRowView[]>([]);
  const newest = first.value ?? [];
  const edge = newest.at(-1)?.sequence ?? 0;
  const rows = [...newest, ...older.filter((row) => row.sequence < edge)];
  const last = rows.at(-1)?.sequence ?? 1;
  return (
    <SetUpPage heading="audit.title" explain="audit.explain" needs="read-audit">
      <Verify />
      <ChoiceEntry
        label="audit.entity"
        value={entity}
        options={[
          ['', t('audit.every')],
          ...AUDIT_ENTITIES.map((entity) => [entity, word('entity', entity)] as const),
        ]}
        onChange={(chosen) => {
          setOlder([]);
          setEntity(chosen);
        }}
      />
      <Refusal trouble={first.trouble} retry={first.reload} />
      {first.value !== null && (
        <DataTable
          none={t('audit.none')}
          rows={rows}
          keyOf={(row) => String(row.sequence)}
          columns={{
            [t('audit.when')]: (row) =>
              `${formatDay(row.at, reader.value)}, ${formatTime(row.at, reader.value, true)}`,
            [t('audit.who')]: (row) => (
              <>
                {row.actor}{' '}
                <span class="dim">
                  {word('role', row.role)} · {row.address}
                </span>
              </>
            ),
            [t('audit.what')]: (row) => (
              <>
                {word('action', row.action)} <span class="dim">{subjectOf(row)}</span>
              </>
            ),
            [t('audit.change')]: (row) => <Changes row={row} />,
            [t('audit.why')]: (row) => row.reason ?? '–',
          }}
        />
      )}
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      {last > 1 && rows.length >= PAGE && (
        <p>
          <ActButton
            text={t('audit.older')}
            disabled={saving.busy}
            onClick={() =>
              void saving.run(
                () => read<readonly AuditRowView[]>(`/api/audit?limit=${PAGE}&before=${last}${filter}`),
                (more) => setOlder([...older, ...more]),
              )
            }
          />
        </p>
      )}
    </SetUpPage>
  );
}
