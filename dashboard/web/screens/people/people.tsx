// The people of the lab: who they are, what they may do, and the codes by which they come in.

import { useState } from 'preact/hooks';
import { ROLES, type Role } from '../../../../lab/person.ts';
import type { InvitationView, PersonView } from '../../../api/people.ts';
import { ActButton } from '../../base/act-button.tsx';
import { type Answer, asRead, sendRemoval, put, send } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { t, word } from '../../base/messages.ts';
import { loadSession, session } from '../../live/session.ts';
import { type Loaded, useLoaded } from '../../live/use-loaded.ts';
import { Refusal, type Saving, useSaving } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { noteDone } from '../../forms/undo.tsx';
import { AddPerson, InvitationNote } from './add-person.tsx';

const personBody = ({ id: _, hasPassword: __, secondFactor: ___, ...body }: PersonView) => body;

const stateOf = ({ hasPassword, secondFactor }: PersonView): string => {
  if (!hasPassword) return t('people.invited');
  return t(secondFactor === undefined ? 'people.has-password' : 'people.has-second-factor');
};

interface RowProps {
  readonly person: PersonView;
  readonly saving: Saving;
  readonly people: Loaded<readonly PersonView[]>;
}

const RoleChoice = ({ person, saving, people }: RowProps) => {
  const since = asRead(people.version);
  const setRole = (role: Role): void =>
    void saving.run(
      () => put(`/api/people/${person.id}`, { ...personBody(person), role }, since),
      () => {
        people.reload();
        void loadSession();
        noteDone(t('people.role-saved', { name: person.name, role: word('role', role) }), () =>
          put(`/api/people/${person.id}`, personBody(person), since),
        );
      },
    );
  return (
    <select
      class="act"
      aria-label={t('people.role-of', { name: person.name })}
      value={person.role}
      disabled={saving.busy}
      onChange={(event) => {
        const role = ROLES.find((name) => name === event.currentTarget.value);
        // Until it is saved the old one holds.
        event.currentTarget.value = person.role;
        if (role !== undefined) setRole(role);
      }}
    >
      {ROLES.map((role) => (
        <option key={role} value={role}>
          {word('role', role)}
        </option>
      ))}
    </select>
  );
};

const PersonActs = (props: RowProps & { readonly onInvited: (invitation: InvitationView) => void }) => {
  const { saving, people, onInvited } = props;
  const { id, name, secondFactor } = props.person;
  const [isLeaving, setIsLeaving] = useState(false);
  const run = (work: () => Promise<Answer<unknown>>, text: string): void =>
    void saving.run(work, () => {
      people.reload();
      noteDone(text);
    });
  return (
    <span class="row">
      <ActButton
        text={t('people.invite')}
        label={t('people.invite-of', { name })}
        onClick={() => void saving.run(() => send<InvitationView>(`/api/people/${id}/invite`), onInvited)}
      />
      <ActButton
        text={t('people.end-sessions')}
        label={t('people.end-sessions-of', { name })}
        onClick={() => run(() => sendRemoval(`/api/people/${id}/sessions`), t('people.ended', { name }))}
      />
      {secondFactor !== undefined && (
        <ActButton
          text={t('people.second-factor-off')}
          label={t('people.second-factor-off-of', { name })}
          onClick={() =>
            run(
              () => sendRemoval(`/api/people/${id}/second-factor`),
              t('people.second-factor-is-off', { name }),
            )
          }
        />
      )}
      {isLeaving ? (
        <ActButton
          text={t('people.remove-really', { name })}
          isFirst
          onClick={() =>
            run(() => sendRemoval(`/api/people/${id}`, asRead(people.version)), t('people.removed', { name }))
          }
        />
      ) : (
        <ActButton
          text={t('set-up.remove')}
          label={t('set-up.remove-of', { name })}
          onClick={() => setIsLeaving(true)}
        />
      )}
    </span>
  );
};

export default function People() {
  const people = useLoaded<readonly PersonView[]>('/api/people');
  const saving = useSaving();
  const [invitation, setInvitation] = useState<InvitationView | null>(null);
  return (
    <SetUpPage heading="people.title" explain="people.explain" needs="manage-people">
      <Refusal trouble={people.trouble} retry={people.reload} />
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      {invitation && <InvitationNote invitation={invitation} onDone={() => setInvitation(null)} />}
      {people.value && (
        <DataTable
          rows={people.value}
          keyOf={({ id }) => id}
          columns={{
            [t('sign-in.name')]: ({ id, name }) =>
              id === session.value?.person?.id ? t('people.you', { name }) : name,
            [t('people.role')]: (person) => <RoleChoice person={person} saving={saving} people={people} />,
            [t('people.state')]: stateOf,
            [t('set-up.acts')]: (person) => (
              <PersonActs person={person} saving={saving} people={people} onInvited={setInvitation} />
            ),
          }}
        />
      )}
      {people.value && (
        <section>
          <h2>{t('people.new')}</h2>
          <AddPerson onAdded={people.reload} />
        </section>
      )}
    </SetUpPage>
  );
}
