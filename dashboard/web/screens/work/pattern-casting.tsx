// The hand-over at investing: alloy, powder and liquid with lots and ratio, ring, set, and the soak of the maker's
// programme, held against what the furnace measured.

import { useState } from 'preact/hooks';
import { burnsOut, STATION_KINDS } from '../../../../lab/station-kinds.ts';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import type { BurnoutView, CastingBody } from '../../../api/casting.ts';
import type { PatternView } from '../../../api/patterns.ts';
import { asRead, put } from '../../base/api.ts';
import { FactList } from '../../base/fact-list.tsx';
import { formatDifference, formatNumber, formatTemperature } from '../../base/format.ts';
import { type MessageKey, t, word } from '../../base/messages.ts';
import { ChoiceEntry } from '../../forms/entries.tsx';
import { OpenedForm } from '../../forms/opened-form.tsx';
import { Refusal, SubmitRow, useSaving } from '../../forms/saving.tsx';
import { NumberField, TextField } from '../../forms/schema-fields.tsx';
import { reader, stations } from '../../live/lab-state.ts';
import { mayDo } from '../../live/session.ts';
import { useLoaded } from '../../live/use-loaded.ts';
import { KindCaution } from '../common/station/kind-caution.tsx';
import { materialOptions, useCastingMaterials } from './material-options.ts';
import { ProgrammeSteps, stepDrafts, stepsOf } from './programme-steps.tsx';
import { submitWith } from '../../forms/submit-with.ts';

type Texts = 'powder_lot' | 'liquid_lot' | 'ring';
type Numbers = {
  [Name in keyof CastingBody]-?: NonNullable<CastingBody[Name]> extends number ? Name : never;
}[keyof CastingBody];

const TEXTS: readonly (readonly [Texts, MessageKey])[] = [
  ['powder_lot', 'casting.powder-lot'],
  ['liquid_lot', 'casting.liquid-lot'],
  ['ring', 'casting.ring'],
];
const MIXING: readonly (readonly [Numbers, MessageKey])[] = [
  ['powder_grams', 'casting.powder'],
  ['liquid_millilitres', 'casting.liquid'],
  ['concentrate_percent', 'casting.concentrate'],
  ['set_minutes', 'casting.set'],
];
const SOAK: readonly (readonly [Numbers, MessageKey])[] = [
  ['hold_celsius', 'casting.hold-at'],
  ['hold_minutes', 'casting.hold-for'],
  ['ramp_celsius_per_hour', 'casting.ramp'],
];

/** What is recorded of any furnace, whether or not one is watched. */
const FURNACE = STATION_KINDS.find(burnsOut);

const furnaces = (): readonly (readonly [string, string])[] =>
  stations.value
    .map((station) => station.value)
    .filter(({ kind }) => burnsOut(kind))
    .map(({ id, name }) => [id, name]);

const number = (value: number, digits = 0): string => formatNumber(value, digits, reader.value);

/** As it is read aloud at the mixing bowl: millilitres to a hundred grams. */
const ratioText = ({ powder_grams: grams, liquid_millilitres: millilitres }: CastingBody): string | null =>
  grams === undefined || millilitres === undefined
    ? null
    : t('casting.ratio', { ratio: number((100 * millilitres) / grams, 1) });

const holdText = (celsius: number, minutes: number): string =>
  t('casting.hold-line', { celsius: formatTemperature(celsius, reader.value, 0), minutes });

const factsOf = (casting: CastingBody, nameOf: (kind: 'alloy' | 'investment', id: string) => string) => {
  const { alloy, investment, furnace, hold_celsius: celsius, hold_minutes: minutes } = casting;
  const joined = (...parts: readonly (string | null | undefined)[]): string =>
    parts.filter((part) => part !== null && part !== undefined && part !== '').join(', ');
  const { powder_grams, liquid_millilitres, concentrate_percent, set_minutes } = casting;
  return (
    [
      ['work.fit-alloy', alloy === undefined ? '' : nameOf('alloy', alloy)],
      ['work.fit-investment', investment === undefined ? '' : nameOf('investment', investment)],
      [
        'casting.powder',
        joined(powder_grams === undefined ? null : `${number(powder_grams)} g`, casting.powder_lot),
      ],
      [
        'casting.liquid',
        joined(
          liquid_millilitres === undefined ? null : `${number(liquid_millilitres, 1)} ml`,
          concentrate_percent === undefined ? null : `${number(concentrate_percent)} %`,
          casting.liquid_lot,
          ratioText(casting),
        ),
      ],
      ['casting.ring', casting.ring ?? ''],
      ['casting.set', set_minutes === undefined ? '' : number(set_minutes)],
      [
        'casting.furnace',
        furnace === undefined ? '' : (furnaces().find(([id]) => id === furnace)?.[1] ?? furnace),
      ],
      [
        'casting.hold',
        [
          ...(casting.steps_before ?? []).map((step) => holdText(step.hold_celsius, step.hold_minutes)),
          ...(celsius === undefined || minutes === undefined ? [] : [holdText(celsius, minutes)]),
        ].join('; '),
      ],
    ] as const
  ).filter(([, value]) => value !== '');
};

const BurnoutSteps = ({ steps }: Pick<BurnoutView, 'steps'>) => (
  <ol>
    {steps.map(({ holdCelsius, holdMinutes, state, heldMinutes }, index) => (
      <li key={`step-${index + 1}`}>
        {holdText(holdCelsius, holdMinutes)}: {word('burnout-step', state)}
        {state !== 'no-readings' && ` (${t('casting.held-minutes', { minutes: number(heldMinutes) })})`}
      </li>
    ))}
  </ol>
);

const Burnout = ({ pattern }: { readonly pattern: PatternView }) => {
  const { value, trouble, reload } = useLoaded<BurnoutView>(`/api/patterns/${pattern.id}/burnout`);
  if (trouble !== null) return <Refusal trouble={trouble} retry={reload} />;
  if (value === null || value.state === 'no-programme') return null;
  const { state, heldMinutes, peakCelsius, steepestCelsiusPerHour, isTooSteep, steps } = value;
  return (
    <div role="status">
      {steps.length > 1 && state !== 'no-readings' && <BurnoutSteps steps={steps} />}
      <p>
        <strong>
          {steps.length > 1 && (state === 'below' || state === 'short')
            ? t('casting.steps-not-held')
            : word('burnout', state)}
        </strong>
        {peakCelsius !== null &&
          steps.length <= 1 &&
          ` ${t('casting.burnout-line', {
            minutes: number(heldMinutes),
            peak: formatTemperature(peakCelsius, reader.value, 0),
          })}`}
        {isTooSteep &&
          steepestCelsiusPerHour !== null &&
          ` ${t('casting.too-steep', { rate: formatDifference(steepestCelsiusPerHour, reader.value, 0) })}`}
      </p>
    </div>
  );
};

interface CastingProps {
  readonly pattern: PatternView;
  /** Of the pattern when it was read. */
  readonly version: number | null;
  readonly onChange: (next: PatternView) => void;
}

const CastingForm = ({ pattern, version, onChange }: CastingProps) => {
  const saving = useSaving();
  const [draft, setDraft] = useState<CastingBody>(pattern.casting);
  const [steps, setSteps] = useState(() => stepDrafts(pattern.casting.steps_before));
  const materials = useCastingMaterials();
  const form = { fields: FORM_FIELDS.casting, saving };
  const set = (part: { readonly [Name in keyof CastingBody]: CastingBody[Name] | null | '' }): void =>
    setDraft(
      Object.fromEntries(
        Object.entries({ ...draft, ...part }).filter(([, value]) => value !== null && value !== ''),
      ),
    );
  const choice = (
    name: 'alloy' | 'investment' | 'furnace',
    label: MessageKey,
    options: ReturnType<typeof furnaces>,
  ) => (
    <ChoiceEntry
      label={label}
      value={draft[name] ?? ''}
      options={[['', t('work.softening-none')], ...options]}
      onChange={(value) => set({ [name]: value })}
    />
  );
  const number = ([name, label]: (typeof MIXING)[number]) => (
    <NumberField
      key={name}
      form={form}
      at={name}
      label={label}
      value={draft[name] ?? null}
      onChange={(value) => set({ [name]: value })}
    />
  );
  return (
    <form
      class="work-form"
      onSubmit={submitWith(() => {
        const { steps_before: _, ...rest } = draft;
        const body = steps.length === 0 ? rest : { ...rest, steps_before: stepsOf(steps) };
        void saving.run(
          () => put<PatternView>(`/api/patterns/${pattern.id}/casting`, body, asRead(version)),
          onChange,
        );
      })}
    >
      {FURNACE && <KindCaution kind={FURNACE} />}
      {choice('alloy', 'work.fit-alloy', materialOptions('alloy', materials))}
      {choice('investment', 'work.fit-investment', materialOptions('investment', materials))}
      {TEXTS.map(([name, label]) => (
        <TextField
          key={name}
          form={form}
          at={name}
          label={label}
          value={draft[name] ?? ''}
          onChange={(value) => set({ [name]: value })}
        />
      ))}
      {MIXING.map(number)}
      {choice('furnace', 'casting.furnace', furnaces())}
      <ProgrammeSteps form={form} steps={steps} onChange={setSteps} />
      {SOAK.map(number)}
      <p class="dim">{t('casting.maker')}</p>
      <SubmitRow saving={saving} label="casting.save" />
    </form>
  );
};

export const PatternCasting = ({ pattern, version, onChange }: CastingProps) => {
  const materials = useCastingMaterials();
  const facts = factsOf(
    pattern.casting,
    (kind, id) => materialOptions(kind, materials).find(([material]) => material === id)?.[1] ?? id,
  );
  const { fate } = pattern;
  const isLeftUncast = fate !== null && fate.kind !== 'invested';
  if (isLeftUncast && facts.length === 0) return null;
  return (
    <section>
      <h2>{t('casting.heading')}</h2>
      {facts.length > 0 && <FactList facts={facts.map(([key, value]) => [t(key), value])} />}
      <Burnout key={JSON.stringify(pattern.casting)} pattern={pattern} />
      <p class="no-print">
        <a class="way" href={`/fit-budget?pattern=${pattern.id}`}>
          {t('work.fit')}
        </a>
      </p>
      {mayDo('tend-patterns') && !isLeftUncast && (
        <details class="no-print">
          <summary>{t('casting.record')}</summary>
          <OpenedForm newest={version}>
            {(opened) => <CastingForm pattern={pattern} version={opened.version} onChange={onChange} />}
          </OpenedForm>
        </details>
      )}
    </section>
  );
};
