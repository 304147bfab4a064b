// What opens a door without a person: links for wall screens, tokens for programs. Shown once, taken back any time.

import type { Static } from 'typebox';
import { useState } from 'preact/hooks';
import type { Role } from '../../../../lab/person.ts';
import type { AccessKeyView, NewAccessKey } from '../../../api/people.ts';
import { leave, send } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatInstant } from '../../base/format.ts';
import { type MessageKey, t, word } from '../../base/messages.ts';
import { now, reader } from '../../live/lab-state.ts';
import { TextEntry } from '../../forms/entries.tsx';
import { useLoaded } from '../../live/use-loaded.ts';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { tellDone } from '../../forms/undo.tsx';
import { RoleEntry } from './add-person.tsx';
import { HandedOver } from './handed-over.tsx';

type Key = Static<typeof AccessKeyView>;
type Made = Static<typeof NewAccessKey>;

interface Kind {
  readonly path: '/api/wall-links' | '/api/tokens';
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

const instant = (at: string | null): string =>
  at === null ? t('station.never') : formatInstant(at, now.value, reader.value);

const KeysOf = (kind: Kind) => {
  const keys = useLoaded<readonly Key[]>(kind.path);
  const saving = useSaving();
  const [name, setName] = useState('');
  const [role, setRole] = useState<Role>('viewer');
  const [made, setMade] = useState<Made | null>(null);
  return (
    <section class="set-up">
      <h2>{t(kind.title)}</h2>
      <p class="dim">{t(kind.explain)}</p>
      <Refusal trouble={keys.trouble} retry={keys.reload} />
      {keys.value?.length === 0 && <p>{t(kind.none)}</p>}
      {keys.value !== null && keys.value.length > 0 && (
        <DataTable
          columns={[
            t(kind.name),
            ...(kind.hasRole ? [t('people.role')] : []),
            t('keys.made-by'),
            t('keys.used'),
            t('set-up.acts'),
          ]}
          rows={keys.value.map((key) => ({
            key: key.id,
            cells: [
              key.name,
              ...(kind.hasRole ? [word('role', key.role ?? '')] : []),
              `${key.madeBy}, ${instant(key.madeAt)}`,
              instant(key.usedAt),
              <button
                type="button"
                class="act"
                aria-label={t('keys.revoke-of', { name: key.name })}
                onClick={() =>
                  void saving.run(
                    () => leave(`${kind.path}/${key.id}`),
                    () => {
                      keys.reload();
                      tellDone(t('keys.revoked', { name: key.name }));
                    },
                  )
                }
              >
                {t('keys.revoke')}
              </button>,
            ],
          }))}
        />
      )}
      {made !== null && (
        <HandedOver
          text={made.path === null ? made.secret : location.origin + made.path}
          explain={t(kind.made)}
          onDone={() => setMade(null)}
        />
      )}
      <form
        onSubmit={(event) => {
          event.preventDefault();
          const body = { name: name.trim(), ...(kind.hasRole ? { role } : {}) };
          void saving.run(
            () => send<Made>(kind.path, body),
            (value) => {
              setName('');
              setMade(value);
              keys.reload();
            },
          );
        }}
      >
        <div class="pair">
          <TextEntry
            label={kind.name}
            required
            maxLength={80}
            value={name}
            onChange={setName}
            error={saving.errorAt('name')}
          />
          {kind.hasRole && <RoleEntry role={role} onChange={setRole} />}
        </div>
        <Refusal trouble={saving.refusal} retry={saving.retry} />
        <button type="submit" class="act" disabled={saving.busy}>
          {t(kind.make)}
        </button>
      </form>
    </section>
  );
};

export default function Keys() {
  return (
    <SetUpPage heading="keys.title" explain="keys.explain" needs="manage-people">
      {KINDS.map((kind) => (
        <KeysOf key={kind.path} {...kind} />
      ))}
    </SetUpPage>
  );
}
