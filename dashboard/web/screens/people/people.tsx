// The people of the lab: who they are, what they may do, and the codes by which they come in.

import { useState } from 'preact/hooks';
import { ROLES, type Role } from '../../../../lab/person.ts';
import type { InvitationView, PersonView } from '../../../api/people.ts';
import { type Answer, leave, put, send } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { t, word } from '../../base/messages.ts';
import { loadSession, session } from '../../live/session.ts';
import { useLoaded } from '../../live/use-loaded.ts';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { tellDone } from '../../forms/undo.tsx';
import { AddPerson, InvitationNote } from './add-person.tsx';

const personBody = ({ id: _, hasPassword: __, ...body }: PersonView) => body;

export default function People() {
  const people = useLoaded<readonly PersonView[]>('/api/people');
  const saving = useSaving();
  const [invitation, setInvitation] = useState<InvitationView | null>(null);
  const [leaving, setLeaving] = useState<string | null>(null);
  const does = (work: () => Promise<Answer<unknown>>, text: string): void =>
    void saving.run(work, () => {
      setLeaving(null);
      people.reload();
      tellDone(text);
    });
  const setRole = (person: PersonView, role: Role): void =>
    void saving.run(
      () => put(`/api/people/${person.id}`, { ...personBody(person), role }),
      () => {
        people.reload();
        void loadSession();
        tellDone(t('people.role-saved', { name: person.name, role: word('role', role) }), () =>
          put(`/api/people/${person.id}`, personBody(person)),
        );
      },
    );
  const acts = (person: PersonView) => (
    <span class="row">
      <button
        type="button"
        class="act"
        aria-label={t('people.invite-of', { name: person.name })}
        onClick={() =>
          void saving.run(() => send<InvitationView>(`/api/people/${person.id}/invite`), setInvitation)
        }
      >
        {t('people.invite')}
      </button>
      <button
        type="button"
        class="act"
        aria-label={t('people.end-sessions-of', { name: person.name })}
        onClick={() =>
          does(() => leave(`/api/people/${person.id}/sessions`), t('people.ended', { name: person.name }))
        }
      >
        {t('people.end-sessions')}
      </button>
      {leaving === person.id ? (
        <button
          type="button"
          class="act"
          data-first="true"
          onClick={() =>
            does(() => leave(`/api/people/${person.id}`), t('people.removed', { name: person.name }))
          }
        >
          {t('people.remove-really', { name: person.name })}
        </button>
      ) : (
        <button
          type="button"
          class="act"
          aria-label={t('set-up.remove-of', { name: person.name })}
          onClick={() => setLeaving(person.id)}
        >
          {t('set-up.remove')}
        </button>
      )}
    </span>
  );
  return (
    <SetUpPage heading="people.title" explain="people.explain" needs="manage-people">
      <Refusal trouble={people.trouble} retry={people.reload} />
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      {invitation && <InvitationNote invitation={invitation} onDone={() => setInvitation(null)} />}
      {people.value && (
        <DataTable
          columns={[t('sign-in.name'), t('people.role'), t('people.state'), t('set-up.acts')]}
          rows={people.value.map((person) => ({
            key: person.id,
            cells: [
              person.id === session.value?.person?.id ? t('people.you', { name: person.name }) : person.name,
              <select
                class="act"
                aria-label={t('people.role-of', { name: person.name })}
                value={person.role}
                disabled={saving.busy}
                onChange={(event) => {
                  const role = ROLES.find((one) => one === event.currentTarget.value);
                  event.currentTarget.value = person.role;
                  if (role !== undefined) setRole(person, role);
                }}
              >
                {ROLES.map((role) => (
                  <option key={role} value={role}>
                    {word('role', role)}
                  </option>
                ))}
              </select>,
              t(person.hasPassword ? 'people.has-password' : 'people.invited'),
              acts(person),
            ],
          }))}
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
