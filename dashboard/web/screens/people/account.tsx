// One's own account: how one is reached, the password, and where one is signed in.

import type { Static } from 'typebox';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import type { OpenSession, PersonView } from '../../../api/people.ts';
import { ActButton } from '../../base/act-button.tsx';
import { sendRemoval, put } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { languageName, t, word } from '../../base/messages.ts';
import { loadSession, session } from '../../live/session.ts';
import { settings } from '../../base/settings.ts';
import { useLoaded } from '../../live/use-loaded.ts';
import { Refusal, SubmitRow, useSaving } from '../../forms/saving.tsx';
import { ChoiceField, TextField, TickField } from '../../forms/schema-fields.tsx';
import { useForm } from '../../forms/use-form.ts';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { noteDone } from '../../forms/undo.tsx';
import { submitWith } from '../../forms/submit-with.ts';
import { SecondFactor } from './second-factor.tsx';
import { instantText } from '../../live/instant-text.ts';

const Reached = ({ person }: { readonly person: PersonView }) => {
  const { language, namesOnLockScreen, morningHeartbeat } = person;
  const { saving, draft, field } = useForm(FORM_FIELDS.preferences, {
    email: person.email ?? '',
    language,
    namesOnLockScreen,
    morningHeartbeat,
  });
  return (
    <form
      onSubmit={submitWith(() => {
        const { unit, hourCycle } = settings.value;
        void saving.run(
          () =>
            put('/api/account', {
              ...draft,
              temperatureUnit: unit,
              hourCycle,
              email: draft.email.trim() === '' ? null : draft.email.trim(),
            }),
          () => {
            void loadSession();
            noteDone(t('account.saved'));
          },
        );
      })}
    >
      <h2>{t('account.reached')}</h2>
      <div class="pair">
        <TextField {...field('email')} label="account.email" type="email" autoComplete="email" />
        <ChoiceField {...field('language')} label="account.language" words={languageName} />
      </div>
      <TickField {...field('namesOnLockScreen')} label="account.lock-screen" />
      <TickField {...field('morningHeartbeat')} label="account.heartbeat" />
      <SubmitRow saving={saving} label="set-up.save" />
    </form>
  );
};

const NO_PASSWORDS = { password: '', newPassword: '' };

const Password = () => {
  const { saving, draft, change, field } = useForm(FORM_FIELDS.password, NO_PASSWORDS);
  return (
    <form
      onSubmit={submitWith(() => {
        void saving.run(
          () => put('/api/account/password', draft),
          () => {
            change(NO_PASSWORDS);
            noteDone(t('account.password-set'));
          },
        );
      })}
    >
      <h2>{t('account.password')}</h2>
      <div class="pair">
        <TextField
          {...field('password')}
          label="account.old-password"
          type="password"
          autoComplete="current-password"
        />
        <TextField
          {...field('newPassword')}
          label="sign-in.new-password"
          hint={t('sign-in.password-hint')}
          type="password"
          autoComplete="new-password"
        />
      </div>
      <SubmitRow saving={saving} label="account.set-password" />
    </form>
  );
};

const Sessions = () => {
  const sessions = useLoaded<readonly Static<typeof OpenSession>[]>('/api/account/sessions');
  const saving = useSaving();
  return (
    <section class="set-up">
      <h2>{t('account.sessions')}</h2>
      <Refusal trouble={sessions.trouble} retry={sessions.reload} />
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      {sessions.value && (
        <DataTable
          rows={sessions.value}
          keyOf={(open) => open.id}
          columns={{
            [t('account.device')]: (open) => <span class="dim">{open.agent || '–'}</span>,
            [t('account.address')]: (open) => open.address,
            [t('account.seen')]: (open) => instantText(open.seenAt),
            [t('set-up.acts')]: (open) =>
              open.isThisOne ? (
                t('account.here')
              ) : (
                <ActButton
                  text={t('account.end')}
                  onClick={() =>
                    void saving.run(
                      () => sendRemoval(`/api/account/sessions/${open.id}`),
                      () => {
                        sessions.reload();
                        noteDone(t('account.ended'));
                      },
                    )
                  }
                />
              ),
          }}
        />
      )}
    </section>
  );
};

export default function Account() {
  const person = session.value?.person ?? null;
  return (
    <SetUpPage heading="account.title" explain="account.explain" needs="own-account">
      {person && <p>{t('account.you', { name: person.name, role: word('role', person.role) })}</p>}
      {person && <Reached key={person.id} person={person} />}
      <Password />
      {person && <SecondFactor person={person} />}
      <Sessions />
    </SetUpPage>
  );
}
