// A new person: name and role. The code that comes back is handed over; the password is the person's own.

import { useState } from 'preact/hooks';
import type { Role } from '../../../../lab/person.ts';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import type { InvitationView } from '../../../api/people.ts';
import { send } from '../../base/api.ts';
import { t } from '../../base/messages.ts';
import { settings } from '../../base/settings.ts';
import { SubmitRow, useSaving } from '../../forms/saving.tsx';
import { ChoiceField, type SchemaForm, TextField } from '../../forms/schema-fields.tsx';
import { linkForOthers } from '../common/link-for-others.tsx';
import { OneTimeSecret } from './one-time-secret.tsx';
import { submitWith } from '../../forms/submit-with.ts';
import { instantText } from '../../live/instant-text.ts';

export const RoleField = (props: {
  readonly form: SchemaForm;
  readonly role: Role;
  readonly onChange: (role: Role) => void;
}) => (
  <ChoiceField
    form={props.form}
    at="role"
    label="people.role"
    hint={t('people.roles')}
    words="role"
    value={props.role}
    onChange={props.onChange}
  />
);

export const InvitationNote = (props: {
  readonly invitation: InvitationView;
  readonly onDone: () => void;
}) => (
  <OneTimeSecret
    text={linkForOthers(`/sign-in?code=${props.invitation.code}`)}
    path={`/sign-in?code=${props.invitation.code}`}
    explain={t('people.code', {
      name: props.invitation.person.name,
      code: props.invitation.code,
      until: instantText(props.invitation.expiresAt),
    })}
    onDone={props.onDone}
  />
);

export const AddPerson = ({ onAdded }: { readonly onAdded: () => void }) => {
  const saving = useSaving();
  const form = { fields: FORM_FIELDS['new-person'], saving };
  const [name, setName] = useState('');
  const [role, setRole] = useState<Role>('technician');
  const [invitation, setInvitation] = useState<InvitationView | null>(null);
  if (invitation !== null)
    return <InvitationNote invitation={invitation} onDone={() => setInvitation(null)} />;
  return (
    <form
      onSubmit={submitWith(() => {
        const { language, unit, hourCycle } = settings.value;
        void saving.run(
          () =>
            send<InvitationView>('/api/people', {
              name: name.trim(),
              role,
              preferences: { language, temperatureUnit: unit, hourCycle },
            }),
          (made) => {
            setName('');
            setInvitation(made);
            onAdded();
          },
        );
      })}
    >
      <div class="pair">
        <TextField form={form} at="name" label="sign-in.name" value={name} onChange={setName} />
        <RoleField form={form} role={role} onChange={setRole} />
      </div>
      <SubmitRow saving={saving} label="people.add" />
    </form>
  );
};
