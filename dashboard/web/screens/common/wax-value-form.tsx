// A value of a wax in place of the table's: which one and how much; each that was entered before can be dropped again.

import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { WaxClassView } from '../../../api/lab-bodies.ts';
import { ActButton } from '../../base/act-button.tsx';
import { type MessageKey, t } from '../../base/messages.ts';
import { ChoiceEntry, NumberEntry, TemperatureEntry } from '../../forms/entries.tsx';
import { Refusal, type Saving } from '../../forms/saving.tsx';
import { submitWith } from '../../forms/submit-with.ts';
import { isTemperature, nameValueInTrouble, waxValueName } from '../../forms/wax-value-name.ts';
import { waxValueChoices } from './wax-figures.tsx';

export type WaxValues = Readonly<Record<string, number>>;

export const WaxValueForm = (props: {
  readonly figures: WaxClassView['figures'];
  /** Those that were entered before, by name. */
  readonly entered: WaxValues;
  readonly saving: Saving;
  readonly onSave: (values: WaxValues) => void;
  readonly label: MessageKey;
  readonly save: MessageKey;
  readonly drop: MessageKey;
  readonly class?: string;
  /** A further field beside the value. */
  readonly children?: ComponentChildren;
}) => {
  const { entered, saving, onSave, label } = props;
  const [name, setName] = useState('ceiling');
  const [value, setValue] = useState<number | null>(null);
  return (
    <form
      class={props.class}
      onSubmit={submitWith(() => {
        if (value !== null) onSave({ ...entered, [name]: value });
      })}
    >
      <div class="pair">
        <ChoiceEntry
          label="figure.what"
          value={name}
          options={waxValueChoices(props.figures)}
          onChange={setName}
        />
        {isTemperature(name) ? (
          <TemperatureEntry label={label} required celsius={value} onCelsius={setValue} />
        ) : (
          <NumberEntry label={label} required value={value} onChange={setValue} />
        )}
        {props.children}
      </div>
      <Refusal trouble={saving.refusal && nameValueInTrouble(saving.refusal)} retry={saving.retry} />
      <p class="row">
        <ActButton text={t(props.save)} isFirst disabled={saving.busy} />
        {Object.keys(entered).map((before) => (
          <ActButton
            key={before}
            text={t(props.drop, { name: waxValueName(before) })}
            disabled={saving.busy}
            onClick={() => {
              const { [before]: _, ...others } = entered;
              onSave(others);
            }}
          />
        ))}
      </p>
    </form>
  );
};
