// The steps of a burnout programme before its soak: each a climb and a hold, added and taken away one by one.

import type { CastingBody } from '../../../api/casting.ts';
import { ActButton } from '../../base/act-button.tsx';
import { t } from '../../base/messages.ts';
import { NumberField, type SchemaForm } from '../../forms/schema-fields.tsx';

type Steps = NonNullable<CastingBody['steps_before']>;

/** As it is being typed. */
export interface StepDraft {
  readonly hold_celsius: number | null;
  readonly hold_minutes: number | null;
  readonly ramp_celsius_per_hour: number | null;
}

const MOST_STEPS = 8;
const NEW_STEP: StepDraft = { hold_celsius: null, hold_minutes: null, ramp_celsius_per_hour: null };

export const stepDrafts = (steps: Steps = []): readonly StepDraft[] =>
  steps.map((step) => ({ ...NEW_STEP, ...step }));

/** What is not typed yet is demanded at its field before anything is sent. */
export const stepsOf = (drafts: readonly StepDraft[]): Steps =>
  drafts.map(({ hold_celsius, hold_minutes, ramp_celsius_per_hour: ramp }) => ({
    hold_celsius: hold_celsius ?? 0,
    hold_minutes: hold_minutes ?? 0,
    ...(ramp !== null && { ramp_celsius_per_hour: ramp }),
  }));

export const ProgrammeSteps = (props: {
  readonly form: SchemaForm;
  readonly steps: readonly StepDraft[];
  readonly onChange: (steps: readonly StepDraft[]) => void;
}) => {
  const { form, steps, onChange } = props;
  const field = (index: number, name: keyof StepDraft) => ({
    form,
    at: `steps_before/${index}/${name}`,
    value: steps[index]?.[name] ?? null,
    onChange: (value: number | null) =>
      onChange(steps.map((step, at) => (at === index ? { ...step, [name]: value } : step))),
  });
  return (
    <>
      {steps.map((_, index) => (
        <fieldset key={`step-${index + 1}`}>
          <legend>{t('casting.step', { number: index + 1 })}</legend>
          <div class="pair">
            <NumberField {...field(index, 'ramp_celsius_per_hour')} label="casting.ramp" />
            <NumberField {...field(index, 'hold_celsius')} label="casting.step-at" />
            <NumberField {...field(index, 'hold_minutes')} label="casting.hold-for" />
          </div>
        </fieldset>
      ))}
      <p class="row">
        {steps.length < MOST_STEPS && (
          <ActButton text={t('casting.add-step')} onClick={() => onChange([...steps, NEW_STEP])} />
        )}
        {steps.length > 0 && (
          <ActButton text={t('casting.drop-step')} onClick={() => onChange(steps.slice(0, -1))} />
        )}
      </p>
    </>
  );
};
