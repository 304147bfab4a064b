// Who was shown which procedure, when and by whom: recorded and signed here, and withdrawn where it was a mistake.

import { useState } from 'preact/hooks';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import type { TrainingList, TrainingView } from '../../../api/training.ts';
import { send } from '../../base/api.ts';
import { t } from '../../base/messages.ts';
import { ChoiceEntry, TextEntry } from '../../forms/entries.tsx';
import { TextField } from '../../forms/schema-fields.tsx';
import { useForm } from '../../forms/use-form.ts';
import { Refusal, SubmitRow, useSaving } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { noteDone } from '../../forms/undo.tsx';
import { now, reader } from '../../live/lab-state.ts';
import { mayDo, session } from '../../live/session.ts';
import { type Loaded, useLoaded } from '../../live/use-loaded.ts';
import { localDay } from '../../base/local-days.ts';
import { TrainingTable } from './training-table.tsx';
import '../night/night.css';
import { submitWith } from '../../forms/submit-with.ts';

type Records = Loaded<TrainingList>;

const AddTraining = ({ records }: { readonly records: Records }) => {
  const { saving, draft, change, field } = useForm(FORM_FIELDS.training, {
    person: '',
    procedure: '',
    edition: '',
    day: localDay(now.peek(), reader.value.timeZone),
  });
  const { person, procedure, edition, day } = draft;
  const people = records.value?.people ?? [];
  if (session.value !== null && !session.value.signedIn)
    return <p class="dim">{t('evidence.person-must-sign')}</p>;
  if (records.value !== null && people.length === 0) return <p>{t('training.no-people')}</p>;
  const body = { person, procedure, day, ...(edition.trim() !== '' && { edition }) };
  return (
    <form
      class="sheet-form"
      onSubmit={submitWith(() => {
        void saving.run(
          () => send<TrainingView>('/api/training', body),
          () => {
            change({ person: '' });
            records.reload();
          },
        );
      })}
    >
      <ChoiceEntry
        label="training.person"
        value={person}
        options={[['', t('training.choose')], ...people.map(({ id, name }) => [id, name] as const)]}
        onChange={(chosen) => change({ person: chosen })}
        error={saving.errorAt('person')?.detail ?? null}
      />
      <TextField {...field('procedure')} label="training.procedure" />
      <TextField {...field('edition')} label="training.edition" hint={t('training.edition-hint')} />
      <TextField {...field('day')} label="training.day" type="date" />
      <p class="dim">{t('evidence.sign-explain')}</p>
      <SubmitRow
        saving={saving}
        label="training.add"
        isFirst
        isBlocked={person === '' || procedure.trim() === ''}
      />
    </form>
  );
};

const Withdraw = ({ record, records }: { readonly record: TrainingView; readonly records: Records }) => {
  const saving = useSaving();
  const [reason, setReason] = useState('');
  if (record.withdrawn !== null) return <>–</>;
  return (
    <details class="sign-cause">
      <summary>{t('training.withdraw')}</summary>
      <form
        class="sheet-form"
        onSubmit={submitWith(() => {
          void saving.run(
            () => send<TrainingView>(`/api/training/${record.number}/withdraw`, { reason }),
            (withdrawn) => {
              records.reload();
              noteDone(t('training.withdrawn', { ...withdrawn.withdrawn }));
            },
          );
        })}
      >
        <TextEntry
          label="training.withdraw-why"
          required
          maxLength={300}
          value={reason}
          onChange={setReason}
        />
        <SubmitRow saving={saving} label="training.withdraw" isBlocked={reason.trim() === ''} />
      </form>
    </details>
  );
};

export default function Training() {
  const list = useLoaded<TrainingList>('/api/training');
  const maySign = mayDo('tend-stations');
  const records = list.value?.records ?? [];
  return (
    <SetUpPage heading="training.title" explain="training.explain" needs="read">
      {maySign && <AddTraining records={list} />}
      <Refusal trouble={list.trouble} retry={list.reload} />
      {list.value !== null && records.length === 0 && <p>{t('training.none')}</p>}
      {records.length > 0 && (
        <TrainingTable
          records={records}
          zoned={reader.value}
          {...(maySign && { actOf: (record: TrainingView) => <Withdraw record={record} records={list} /> })}
        />
      )}
    </SetUpPage>
  );
}
