// JSON of other devices: which topics are followed, and what is taken from them.

import { useState } from 'preact/hooks';
import type { MappingView } from '../../../api/payload-mappings.ts';
import { ActButton } from '../../base/act-button.tsx';
import { asRead, sendRemoval, put } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { t, word } from '../../base/messages.ts';
import { type Loaded, useLoaded } from '../../live/use-loaded.ts';
import { OpenedForm } from '../../forms/opened-form.tsx';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { noteDone } from '../../forms/undo.tsx';
import { MappingForm, mappingBody, NEW_MAPPING } from './mapping-form.tsx';

/** The first free name; nobody need think of one. */
const freeId = (mappings: readonly MappingView[]): string => {
  for (let number = 1; ; number += 1)
    if (!mappings.some(({ id }) => id === `mapping-${number}`)) return `mapping-${number}`;
};

const MappingTable = (props: {
  readonly mappings: Loaded<readonly MappingView[]>;
  readonly onEdit: (id: string) => void;
}) => {
  const { mappings } = props;
  const saving = useSaving();
  const path = ({ id }: MappingView): string => `/api/payload-mappings/${id}`;
  const remove = (mapping: MappingView): void =>
    void saving.run(
      () => sendRemoval(path(mapping), asRead(mappings.version)),
      () => {
        mappings.reload();
        noteDone(t('mapping.removed', { topic: mapping.topic }), () =>
          put(path(mapping), mappingBody(mapping), asRead(mappings.version)),
        );
      },
    );
  return (
    <>
      <Refusal
        trouble={mappings.trouble ?? saving.refusal}
        retry={mappings.trouble ? mappings.reload : saving.retry}
      />
      {mappings.value !== null && (
        <DataTable
          none={t('mapping.none')}
          rows={mappings.value}
          keyOf={(mapping) => mapping.id}
          columns={{
            [t('mapping.topic')]: (mapping) => <span class="sample">{mapping.topic}</span>,
            [t('probes.probe')]: (mapping) => mapping.probe,
            [t('mapping.value')]: (mapping) => `${mapping.value} · ${word('mapped-unit', mapping.unit)}`,
            [t('mapping.state')]: (mapping) => t(mapping.isOn ? 'mapping.on' : 'mapping.off'),
            [t('set-up.acts')]: (mapping) => (
              <>
                <ActButton
                  text={t('mapping.change')}
                  label={t('mapping.change-of', { topic: mapping.topic })}
                  onClick={() => props.onEdit(mapping.id)}
                />{' '}
                <ActButton
                  text={t('mapping.remove')}
                  label={t('mapping.remove-of', { topic: mapping.topic })}
                  disabled={saving.busy}
                  onClick={() => remove(mapping)}
                />
              </>
            ),
          }}
        />
      )}
    </>
  );
};

export default function PayloadMappings() {
  const mappings = useLoaded<readonly MappingView[]>('/api/payload-mappings');
  const value = mappings.value ?? [];
  // A new one has no id before it is saved, so that two people who begin one do not take the same.
  const [edited, setEdited] = useState<{ readonly id: string | null } | null>(null);
  const before = value.find(({ id }) => id === edited?.id);
  return (
    <SetUpPage heading="mapping.title" explain="mapping.explain" needs="set-up-lab">
      <MappingTable mappings={mappings} onEdit={(id) => setEdited({ id })} />
      {edited === null ? (
        <ActButton
          text={t('mapping.add')}
          disabled={mappings.value === null}
          onClick={() => setEdited({ id: null })}
        />
      ) : (
        <OpenedForm key={edited.id} newest={mappings.version}>
          {({ version }) => (
            <MappingForm
              id={edited.id ?? freeId(value)}
              mapping={before === undefined ? NEW_MAPPING : mappingBody(before)}
              version={version}
              onSaved={() => {
                setEdited(null);
                mappings.reload();
                noteDone(t('mapping.saved'));
              }}
              onCancel={() => setEdited(null)}
            />
          )}
        </OpenedForm>
      )}
    </SetUpPage>
  );
}
