// What the sensor of the probe is: nothing to enter where it sends degrees; else its kind, class, wiring or curve, and
// where a thermocouple ends.

import { FORM_FIELDS } from '../../../api/form-fields.ts';
import { type MessageKey, t } from '../../base/messages.ts';
import { ChoiceEntry } from '../../forms/entries.tsx';
import { SubmitRow } from '../../forms/saving.tsx';
import { fieldsOf, NumberField } from '../../forms/schema-fields.tsx';
import { probes } from '../../live/lab-state.ts';
import { labChanged } from '../../live/use-loaded.ts';
import type { ProbeFormProps } from '../set-up/probe-body.ts';
import { putProbe } from '../set-up/put-probe.ts';
import {
  type ColdJunction,
  type Curve,
  type SensorDraft,
  sensorBody,
  sensorDraft,
  tolerancesOf,
} from './sensor-draft.ts';
import { submitWith } from '../../forms/submit-with.ts';
import { type FormPart, useForm } from '../../forms/use-form.ts';

const KINDS: readonly (readonly [SensorDraft['kind'], MessageKey])[] = [
  ['', 'sensor.degrees'],
  ['platinum', 'sensor.platinum'],
  ['thermocouple', 'sensor.thermocouple'],
  ['thermistor', 'sensor.thermistor'],
];
const COLD_JUNCTIONS: readonly (readonly [ColdJunction, MessageKey])[] = [
  ['probe', 'sensor.junction-probe'],
  ['fixed', 'sensor.junction-fixed'],
];
const CURVES: readonly (readonly [Curve, MessageKey])[] = [
  ['beta', 'sensor.by-beta'],
  ['coefficients', 'sensor.by-coefficients'],
];
/** Designations of the standards, the same in every language. */
const ELEMENTS = [
  ['pt100', 'Pt100'],
  ['pt1000', 'Pt1000'],
] as const;
const THERMOCOUPLES = [
  ['K', 'K'],
  ['T', 'T'],
] as const;

type SensorPart = FormPart<SensorDraft>;

const nameOptions = <T extends string>(options: readonly (readonly [T, MessageKey])[]) =>
  options.map(([value, key]) => [value, t(key)] as const);

const Platinum = ({ form, draft, onChange }: SensorPart) => (
  <div class="pair">
    <ChoiceEntry
      label="sensor.element"
      value={draft.element}
      options={ELEMENTS}
      onChange={(element) => onChange({ element })}
    />
    <ChoiceEntry
      label="sensor.wires"
      value={String(draft.wires)}
      options={['2', '3', '4'].map((wires) => [wires, wires] as const)}
      onChange={(wires) => onChange({ wires: wires === '2' ? 2 : wires === '4' ? 4 : 3 })}
    />
    {draft.wires === 2 && (
      <NumberField
        {...fieldsOf(form, draft, onChange)('lead_ohms', 'sensor/lead_ohms')}
        label="sensor.lead-ohms"
        hint={t('sensor.lead-hint')}
      />
    )}
  </div>
);

const Thermocouple = ({ form, draft, onChange, own }: SensorPart & { readonly own: string }) => (
  <div class="pair">
    <ChoiceEntry
      label="sensor.type"
      value={draft.thermocouple}
      options={THERMOCOUPLES}
      onChange={(thermocouple) => onChange({ thermocouple })}
    />
    <ChoiceEntry
      label="sensor.junction"
      value={draft.coldJunction}
      options={nameOptions(COLD_JUNCTIONS)}
      onChange={(coldJunction) => onChange({ coldJunction })}
    />
    {draft.coldJunction === 'fixed' ? (
      <NumberField
        {...fieldsOf(form, draft, onChange)('cold_junction_celsius', 'sensor/cold_junction_celsius')}
        label="sensor.junction-celsius"
        isRequired
      />
    ) : (
      <ChoiceEntry
        label="sensor.junction-at"
        value={draft.cold_junction_probe}
        options={[
          ['', '–'],
          ...probes.value.filter(({ id }) => id !== own).map(({ id }) => [id, id] as const),
        ]}
        onChange={(cold_junction_probe) => onChange({ cold_junction_probe })}
      />
    )}
  </div>
);

const FIGURES = { beta: ['r25_ohms', 'beta_kelvin'], coefficients: ['a', 'b', 'c'] } as const;
const FIGURE_LABELS: Readonly<Record<'r25_ohms' | 'beta_kelvin' | 'a' | 'b' | 'c', MessageKey>> = {
  r25_ohms: 'sensor.r25',
  beta_kelvin: 'sensor.beta',
  a: 'sensor.a',
  b: 'sensor.b',
  c: 'sensor.c',
};

const Thermistor = ({ form, draft, onChange }: SensorPart) => (
  <div class="pair">
    <ChoiceEntry
      label="sensor.curve"
      value={draft.curve}
      options={nameOptions(CURVES)}
      onChange={(curve) => onChange({ curve })}
    />
    {FIGURES[draft.curve].map((name) => (
      <NumberField
        key={name}
        form={form}
        at={`sensor/${name}`}
        label={FIGURE_LABELS[name]}
        isRequired
        value={draft[name]}
        onChange={(value) => onChange({ [name]: value })}
      />
    ))}
  </div>
);

export const SensorForm = ({ probe, version, onSaved, onCancel }: ProbeFormProps) => {
  const { saving, draft, change, part } = useForm(FORM_FIELDS.probe, () => sensorDraft(probe));
  const tolerances = tolerancesOf(draft);
  return (
    <form
      onSubmit={submitWith(() => {
        void saving.run(
          () => putProbe(probe, version, sensorBody(probe, draft)),
          () => {
            labChanged();
            onSaved(probe);
          },
        );
      })}
    >
      <p class="dim">{t('sensor.explain')}</p>
      <ChoiceEntry
        label="sensor.kind"
        value={draft.kind}
        options={nameOptions(KINDS)}
        onChange={(kind) => change({ kind })}
      />
      {draft.kind === 'platinum' && <Platinum {...part} />}
      {draft.kind === 'thermocouple' && <Thermocouple {...part} own={probe.id} />}
      {draft.kind === 'thermistor' && <Thermistor {...part} />}
      {tolerances.length > 0 && (
        <ChoiceEntry
          label="sensor.tolerance"
          value={tolerances.includes(draft.tolerance) ? draft.tolerance : ''}
          options={[
            ['', t('sensor.no-tolerance')],
            ...tolerances.map((each) => [each, each.split('-')[1] ?? each] as const),
          ]}
          onChange={(tolerance) => change({ tolerance })}
        />
      )}
      <SubmitRow saving={saving} label="set-up.save" isFirst onCancel={onCancel} />
    </form>
  );
};
