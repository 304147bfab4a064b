// The lab's own alloys and investments, with the figures of their makers; the fit budget and the patterns take them.

import { useState } from 'preact/hooks';
import { ALLOY_SHRINKAGE, INVESTMENT_EXPANSION } from '../../../../wax/relaxation/fit-budget.ts';
import type { CastingMaterialView } from '../../../api/casting.ts';
import { ActButton } from '../../base/act-button.tsx';
import { asRead, sendRemoval, put } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatNumber } from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { ChoiceEntry, NumberEntry, TextEntry } from '../../forms/entries.tsx';
import { Refusal, SubmitRow, useSaving } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { stationId } from '../../forms/station-id.ts';
import { noteDone } from '../../forms/undo.tsx';
import { reader } from '../../live/lab-state.ts';
import { useLoaded } from '../../live/use-loaded.ts';
import { submitWith } from '../../forms/submit-with.ts';

const PARTS = { alloy: ['shrinkage'], investment: ['setting', 'hygroscopic', 'thermal'] } as const;
type Kind = keyof typeof PARTS;
type Part = (typeof PARTS)[Kind][number];
type Change = { readonly percent: number; readonly uncertainty_percent: number };

/** Those of the tables: a material of the lab takes none of their places. */
const TABLE_IDS = [...Object.keys(ALLOY_SHRINKAGE), ...Object.keys(INVESTMENT_EXPANSION)];

/** Null while nothing is entered: no figure of a maker is taken to be zero. */
type DraftChange = { readonly [Figure in keyof Change]: number | null };
const NONE: DraftChange = { percent: null, uncertainty_percent: null };
const PART_WORD: Readonly<Record<Part, string>> = {
  shrinkage: 'alloy',
  setting: 'setting',
  hygroscopic: 'hygroscopic',
  thermal: 'thermal',
};

const changesOf = (material: CastingMaterialView): readonly (readonly [Part, Change])[] =>
  material.kind === 'alloy'
    ? [['shrinkage', material.shrinkage]]
    : [
        ['setting', material.setting],
        ['hygroscopic', material.hygroscopic],
        ['thermal', material.thermal],
      ];

const pathOf = (id: string): string => `/api/casting-materials/${encodeURIComponent(id)}`;
const withoutId = ({ id: _, ...body }: CastingMaterialView): object => body;

const ChangeFields = (props: {
  readonly part: Part;
  readonly value: DraftChange;
  readonly onChange: (value: DraftChange) => void;
}) => {
  const { part, value, onChange } = props;
  return (
    <fieldset class="pair">
      <legend>{word('fit-part', PART_WORD[part])}</legend>
      <NumberEntry
        label="work.fit-percent"
        required
        min={-10}
        max={10}
        value={value.percent}
        onChange={(percent) => onChange({ ...value, percent })}
      />
      <NumberEntry
        label="casting.uncertainty"
        required
        min={0}
        max={10}
        value={value.uncertainty_percent}
        onChange={(uncertainty_percent) => onChange({ ...value, uncertainty_percent })}
      />
    </fieldset>
  );
};

const MaterialForm = (props: {
  readonly all: readonly CastingMaterialView[];
  readonly version: number | null;
  readonly onSaved: () => void;
}) => {
  const saving = useSaving();
  const [kind, setKind] = useState<Kind>('alloy');
  const [name, setName] = useState('');
  const [changes, setChanges] = useState<Partial<Record<Part, DraftChange>>>({});
  const save = (): void => {
    const before = props.all.find((material) => material.name === name.trim() && material.kind === kind);
    const id = before?.id ?? stationId(name, [...props.all.map((material) => material.id), ...TABLE_IDS]);
    const parts = Object.fromEntries(PARTS[kind].map((part) => [part, changes[part] ?? NONE]));
    const since = asRead(props.version);
    void saving.run(
      () => put(pathOf(id), { kind, name: name.trim(), ...parts }, since),
      () => {
        setName('');
        setChanges({});
        noteDone(t('casting.saved'), () =>
          before === undefined ? sendRemoval(pathOf(id), since) : put(pathOf(id), withoutId(before), since),
        );
        props.onSaved();
      },
    );
  };
  return (
    <form onSubmit={submitWith(save)}>
      <ChoiceEntry
        label="casting.kind"
        value={kind}
        options={[
          ['alloy', t('work.fit-alloy')],
          ['investment', t('work.fit-investment')],
        ]}
        onChange={(chosen) => setKind(chosen === 'alloy' ? 'alloy' : 'investment')}
      />
      <TextEntry
        label="casting.name"
        hint={t('casting.name-hint')}
        required
        maxLength={80}
        value={name}
        onChange={setName}
      />
      {PARTS[kind].map((part) => (
        <ChangeFields
          key={part}
          part={part}
          value={changes[part] ?? NONE}
          onChange={(value) => setChanges({ ...changes, [part]: value })}
        />
      ))}
      <SubmitRow saving={saving} label="set-up.save" isFirst />
    </form>
  );
};

export default function CastingMaterials() {
  const loaded = useLoaded<readonly CastingMaterialView[]>('/api/casting-materials');
  const { value, version, trouble, reload } = loaded;
  const saving = useSaving();
  const percent = ({ percent: change, uncertainty_percent }: Change): string =>
    `${formatNumber(change, 2, reader.value)} ± ${formatNumber(uncertainty_percent, 2, reader.value)} %`;
  return (
    <SetUpPage heading="ways.casting-materials" explain="casting.explain" needs="set-up-lab">
      <Refusal trouble={trouble ?? saving.refusal} retry={trouble === null ? saving.retry : reload} />
      <MaterialForm all={value ?? []} version={version} onSaved={reload} />
      {value !== null && (
        <DataTable
          none={t('casting.none')}
          rows={value}
          keyOf={(material) => material.id}
          columns={{
            [t('casting.name')]: (material) => material.name,
            [t('casting.kind')]: (material) =>
              t(material.kind === 'alloy' ? 'work.fit-alloy' : 'work.fit-investment'),
            [t('casting.changes')]: (material) =>
              changesOf(material)
                .map(([part, change]) => `${word('fit-part', PART_WORD[part])}: ${percent(change)}`)
                .join('; '),
            [t('casting.remove')]: (material) => (
              <ActButton
                text={t('casting.remove')}
                label={`${t('casting.remove')}: ${material.name}`}
                disabled={saving.busy}
                onClick={() =>
                  void saving.run(
                    () => sendRemoval(pathOf(material.id), asRead(version)),
                    () => {
                      noteDone(t('casting.removed'), () =>
                        put(pathOf(material.id), withoutId(material), asRead(version)),
                      );
                      reload();
                    },
                  )
                }
              />
            ),
          }}
        />
      )}
    </SetUpPage>
  );
}
