// The lab written down as a file: taken out, and taken in again after everybody can see what would change.

import { diffLines } from 'diff';
import { useId, useMemo, useState } from 'preact/hooks';
import type { LabFileView } from '../../../api/lab-bodies.ts';
import { ActButton } from '../../base/act-button.tsx';
import { asRead, put } from '../../base/api.ts';
import { t } from '../../base/messages.ts';
import { health } from '../../live/lab-state.ts';
import { TextEntry } from '../../forms/entries.tsx';
import { labChanged, useLoaded } from '../../live/use-loaded.ts';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { noteDone } from '../../forms/undo.tsx';
import { submitWith } from '../../forms/submit-with.ts';

const Difference = ({ before, after }: { readonly before: string; readonly after: string }) => {
  const parts = useMemo(() => diffLines(before, after), [before, after]);
  if (parts.every((part) => !part.added && !part.removed)) return <p>{t('lab-file.same')}</p>;
  return (
    <pre class="diff">
      {parts.flatMap((part, at) => {
        const side = part.added ? 'added' : part.removed ? 'removed' : 'kept';
        const sign = part.added ? '+ ' : part.removed ? '− ' : '  ';
        return part.value
          .replace(/\n$/, '')
          .split('\n')
          .map((line, index) => (
            <span key={`${at}-${index}`} data-side={side}>
              {sign}
              {line}
            </span>
          ));
      })}
    </pre>
  );
};

const Export = ({ yaml }: Pick<LabFileView, 'yaml'>) => {
  const address = useMemo(() => URL.createObjectURL(new Blob([yaml], { type: 'application/yaml' })), [yaml]);
  return (
    <p>
      <a class="act" href={address} download={`${health.value?.site ?? 'lab'}.yaml`}>
        {t('lab-file.export')}
      </a>
    </p>
  );
};

/** Nothing needs doing about them: an export writes the present keys. */
const OldSpellings = ({ spellings }: { readonly spellings: NonNullable<LabFileView['oldSpellings']> }) => (
  <>
    <p>{t('lab-file.old-keys', { count: spellings.length })}</p>
    <ul>
      {spellings.map(({ line, column, oldKey, newKey }) => (
        <li key={`${line}:${column}`}>{t('lab-file.old-key', { line, oldKey, newKey })}</li>
      ))}
    </ul>
  </>
);

export default function LabFile() {
  const now = useLoaded<LabFileView>('/api/lab-file');
  const looking = useSaving();
  const taking = useSaving();
  const [text, setText] = useState('');
  const [reason, setReason] = useState('');
  const [seen, setSeen] = useState<LabFileView | null>(null);
  const id = useId();
  const change = (yaml: string): void => {
    setText(yaml);
    setSeen(null);
  };
  const look = (): void =>
    void looking.run(() => put<LabFileView>('/api/lab-file', { yaml: text, dryRun: true }), setSeen);
  /** `version` is that of the comparison that was seen. */
  const take = (before: string, version: number): void =>
    void taking.run(
      () => put('/api/lab-file', { yaml: text, ...(reason === '' ? {} : { reason }) }, asRead(version)),
      () => {
        change('');
        labChanged();
        now.reload();
        noteDone(t('lab-file.taken'), () => put('/api/lab-file', { yaml: before }, asRead(version)));
      },
    );
  return (
    <SetUpPage heading="lab-file.title" explain="lab-file.explain" needs="set-up-lab">
      <Refusal trouble={now.trouble} retry={now.reload} />
      {now.value && <Export yaml={now.value.yaml} />}
      <form onSubmit={submitWith(look)}>
        <h2>{t('lab-file.import')}</h2>
        <p class="field">
          <label for={`${id}-file`}>{t('lab-file.choose')}</label>
          <input
            id={`${id}-file`}
            type="file"
            accept=".yaml,.yml,text/yaml,application/yaml"
            onChange={(event) => {
              void event.currentTarget.files?.[0]?.text().then(change);
            }}
          />
        </p>
        <p class="field">
          <label for={`${id}-text`}>{t('lab-file.text')}</label>
          <textarea
            id={`${id}-text`}
            value={text}
            spellcheck={false}
            onInput={(event) => change(event.currentTarget.value)}
          />
        </p>
        <Refusal trouble={looking.refusal} retry={looking.retry} />
        <p class="row">
          <ActButton
            text={t('lab-file.look')}
            isFirst={seen === null}
            disabled={looking.busy || text === ''}
          />
        </p>
      </form>
      {seen && now.value && (
        <section class="card">
          <h2>{t('lab-file.difference')}</h2>
          <p class="dim">{t('lab-file.people-stay')}</p>
          {seen.oldSpellings && <OldSpellings spellings={seen.oldSpellings} />}
          <Difference before={now.value.yaml} after={seen.yaml} />
          <TextEntry label="set-up.reason" maxLength={500} value={reason} onChange={setReason} />
          <Refusal trouble={taking.refusal} retry={taking.retry} />
          <p class="row">
            <ActButton
              text={t('lab-file.take')}
              isFirst
              disabled={taking.busy}
              onClick={() => take(now.value?.yaml ?? '', seen.version)}
            />
            <ActButton text={t('form.cancel')} onClick={() => setSeen(null)} />
          </p>
        </section>
      )}
    </SetUpPage>
  );
}
