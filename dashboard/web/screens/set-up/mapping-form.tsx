// A mapping as it is entered: tried over real messages before it takes any.

import { useState } from 'preact/hooks';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import type { MappingBody, MappingTrial, MappingView } from '../../../api/payload-mappings.ts';
import { ActButton } from '../../base/act-button.tsx';
import { asRead, put, send } from '../../base/api.ts';
import { type MessageKey, t } from '../../base/messages.ts';
import { Refusal } from '../../forms/saving.tsx';
import { ChoiceField, TextField } from '../../forms/schema-fields.tsx';
import { useForm } from '../../forms/use-form.ts';
import { TrialOutcome } from './mapping-trial.tsx';
import { submitWith } from '../../forms/submit-with.ts';

export const NEW_MAPPING: MappingBody = {
  isOn: false,
  topic: '',
  gateway: '',
  probe: '{1}',
  value: '/',
  unit: 'Cel',
};

export const mappingBody = ({ id: _, ...body }: MappingView): MappingBody => body;

/** Without a time its form means nothing; a place that is empty is none. */
const bodyOf = ({ time, timeFormat, battery, batteryUnit, signal, ...rest }: MappingBody): MappingBody => ({
  ...rest,
  ...(battery !== undefined && battery !== '' && { battery, batteryUnit: batteryUnit ?? '%' }),
  ...(signal !== undefined && signal !== '' && { signal }),
  ...(time !== undefined && time !== '' && { time, timeFormat: timeFormat ?? 'iso' }),
});

type TextOfMapping = 'topic' | 'gateway' | 'probe' | 'value' | 'time' | 'battery' | 'signal';

export const MappingForm = (props: {
  readonly id: string;
  readonly mapping: MappingBody;
  /** Of the mappings that it was read with. */
  readonly version: number | null;
  readonly onSaved: () => void;
  readonly onCancel: () => void;
}) => {
  const { saving, draft, change, form, field } = useForm(FORM_FIELDS.mapping, props.mapping);
  const [trial, setTrial] = useState<MappingTrial | null>(null);
  const attempt = (): void =>
    void saving.run(() => send<MappingTrial>('/api/payload-mapping-trials', bodyOf(draft)), setTrial);
  const save = (isOn: boolean): void =>
    void saving.run(
      () => put(`/api/payload-mappings/${props.id}`, { ...bodyOf(draft), isOn }, asRead(props.version)),
      props.onSaved,
    );
  const text = (at: TextOfMapping, label: MessageKey, hint?: string) => (
    <TextField
      form={form}
      at={at}
      label={label}
      {...(hint !== undefined && { hint })}
      value={draft[at] ?? ''}
      onChange={(value) => change({ [at]: value })}
    />
  );
  return (
    <form onSubmit={submitWith(() => save(true))}>
      <div class="pair">
        {text('topic', 'mapping.topic', t('mapping.topic-hint'))}
        {text('gateway', 'probes.gateway')}
        {text('probe', 'probes.probe', t('mapping.probe-hint'))}
      </div>
      <div class="pair">
        {text('value', 'mapping.value', t('mapping.pointer-hint'))}
        <ChoiceField {...field('unit')} label="mapping.unit" words="mapped-unit" />
        {text('time', 'mapping.time', t('mapping.time-hint'))}
        {(draft.time ?? '') !== '' && (
          <ChoiceField
            form={form}
            at="timeFormat"
            label="mapping.time-format"
            words="mapped-time"
            value={draft.timeFormat ?? 'iso'}
            onChange={(timeFormat) => change({ timeFormat })}
          />
        )}
      </div>
      <div class="pair">
        {text('battery', 'mapping.battery', t('mapping.battery-hint'))}
        {(draft.battery ?? '') !== '' && (
          <ChoiceField
            form={form}
            at="batteryUnit"
            label="mapping.battery-unit"
            words="battery-unit"
            value={draft.batteryUnit ?? '%'}
            onChange={(batteryUnit) => change({ batteryUnit })}
          />
        )}
        {text('signal', 'mapping.signal', t('mapping.signal-hint'))}
      </div>
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      <p class="row">
        <ActButton text={t('mapping.try')} disabled={saving.busy} onClick={attempt} />
        <ActButton text={t('mapping.save-off')} disabled={saving.busy} onClick={() => save(false)} />
        <ActButton text={t('mapping.save-on')} disabled={saving.busy} />
        <ActButton text={t('mapping.cancel')} onClick={props.onCancel} />
      </p>
      {trial !== null && <TrialOutcome trial={trial} />}
    </form>
  );
};
