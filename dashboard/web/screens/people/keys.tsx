// Access without a person: links for wall screens and calendars, tokens for programs. Each is shown once and can be revoked.

import type { Static } from 'typebox';
import { useState } from 'preact/hooks';
import type { Role } from '../../../../lab/person.ts';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import type { AccessKeyView, NewAccessKey } from '../../../api/people.ts';
import { ActButton } from '../../base/act-button.tsx';
import { sendRemoval, send } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { type MessageKey, t, word } from '../../base/messages.ts';
import { type Loaded, useLoaded } from '../../live/use-loaded.ts';
import { Refusal, SubmitRow, useSaving } from '../../forms/saving.tsx';
import { TextField } from '../../forms/schema-fields.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { noteDone } from '../../forms/undo.tsx';
import { RoleField } from './add-person.tsx';
import { linkForOthers } from '../common/link-for-others.tsx';
import { OneTimeSecret } from './one-time-secret.tsx';
import { submitWith } from '../../forms/submit-with.ts';
import { instantText } from '../../live/instant-text.ts';

type Key = Static<typeof AccessKeyView>;
type Made = Static<typeof NewAccessKey>;

interface Kind {
  readonly path: '/api/wall-links' | '/api/calendar-links' | '/api/tokens';
  readonly title: MessageKey;
  readonly explain: MessageKey;
  readonly none: MessageKey;
  readonly name: MessageKey;
  readonly make: MessageKey;
  readonly made: MessageKey;
  readonly hasRole: boolean;
}
const KINDS: readonly Kind[] = [
  {
    path: '/api/wall-links',
    title: 'keys.walls',
    explain: 'keys.walls-explain',
    none: 'keys.walls-none',
    name: 'keys.wall-name',
    make: 'keys.wall-make',
    made: 'keys.wall-made',
    hasRole: false,
  },
  {
    path: '/api/calendar-links',
    title: 'keys.calendars',
    explain: 'keys.calendars-explain',
    none: 'keys.calendars-none',
    name: 'keys.calendar-name',
    make: 'keys.wall-make',
    made: 'keys.calendar-made',
    hasRole: false,
  },
  {
    path: '/api/tokens',
    title: 'keys.programs',
    explain: 'keys.programs-explain',
    none: 'keys.programs-none',
    name: 'keys.program-name',
    make: 'keys.program-make',
    made: 'keys.program-made',
    hasRole: true,
  },
];

const usedText = (at: string | null): string => (at === null ? t('station.never') : instantText(at));

interface PartProps {
  readonly kind: Kind;
  readonly keys: Loaded<readonly Key[]>;
}

const KeyTable = ({ kind, keys }: PartProps) => {
  const saving = useSaving();
  const revoke = ({ id, name }: Key): void =>
    void saving.run(
      () => sendRemoval(`${kind.path}/${id}`),
      () => {
        keys.reload();
        noteDone(t('keys.revoked', { name }));
      },
    );
  return (
    <>
      <Refusal trouble={keys.trouble ?? saving.refusal} retry={keys.trouble ? keys.reload : saving.retry} />
      {keys.value !== null && (
        <DataTable
          none={t(kind.none)}
          rows={keys.value}
          keyOf={({ id }) => id}
          columns={{
            [t(kind.name)]: ({ name }) => name,
            ...(kind.hasRole && { [t('people.role')]: ({ role }: Key) => word('role', role ?? '') }),
            [t('keys.made-by')]: ({ madeBy, madeAt }) => `${madeBy}, ${instantText(madeAt)}`,
            [t('keys.used')]: ({ usedAt }) => usedText(usedAt),
            [t('set-up.acts')]: (key) => (
              <ActButton
                text={t('keys.revoke')}
                label={t('keys.revoke-of', { name: key.name })}
                disabled={saving.busy}
                onClick={() => revoke(key)}
              />
            ),
          }}
        />
      )}
    </>
  );
};

/** The secret of a new key is shown once, above the form that made it. */
const NewKey = ({ kind, keys }: PartProps) => {
  const saving = useSaving();
  const form = { fields: FORM_FIELDS[kind.hasRole ? 'token' : 'wall-link'], saving };
  const [name, setName] = useState('');
  const [role, setRole] = useState<Role>('viewer');
  const [made, setMade] = useState<Made | null>(null);
  const create = (): void =>
    void saving.run(
      () => send<Made>(kind.path, { name: name.trim(), ...(kind.hasRole && { role }) }),
      (answer) => {
        setName('');
        setMade(answer);
        keys.reload();
      },
    );
  return (
    <>
      {made !== null && (
        <OneTimeSecret
          text={made.path === null ? made.secret : linkForOthers(made.path)}
          {...(made.path !== null && { path: made.path })}
          explain={t(kind.made)}
          onDone={() => setMade(null)}
        />
      )}
      <form onSubmit={submitWith(create)}>
        <div class="pair">
          <TextField form={form} at="name" label={kind.name} value={name} onChange={setName} />
          {kind.hasRole && <RoleField form={form} role={role} onChange={setRole} />}
        </div>
        <SubmitRow saving={saving} label={kind.make} />
      </form>
    </>
  );
};

const KeysOf = ({ kind }: { readonly kind: Kind }) => {
  const keys = useLoaded<readonly Key[]>(kind.path);
  return (
    <section class="set-up">
      <h2>{t(kind.title)}</h2>
      <p class="dim">{t(kind.explain)}</p>
      <KeyTable kind={kind} keys={keys} />
      <NewKey kind={kind} keys={keys} />
    </section>
  );
};

export default function Keys() {
  return (
    <SetUpPage heading="keys.title" explain="keys.explain" needs="manage-people">
      {KINDS.map((kind) => (
        <KeysOf key={kind.path} kind={kind} />
      ))}
    </SetUpPage>
  );
}
