// The entries of the daily forms: one out of a list, a number, and a temperature in the reader's unit. No more than a label and the browser's own
// checks; the server has the last word.

import { useId, useState } from 'preact/hooks';
import { unitMark } from '../base/format.ts';
import { reader } from '../live/lab-state.ts';
import { celsiusShown, celsiusTyped } from './figure-unit.ts';

export const Choice = <T extends string>(props: {
  readonly label: string;
  readonly value: T;
  readonly options: readonly (readonly [value: T, text: string])[];
  readonly onChange: (value: T) => void;
}) => {
  const id = useId();
  return (
    <p class="field">
      <label for={id}>{props.label}</label>
      <select
        id={id}
        value={props.value}
        onChange={(event) => {
          const chosen = props.options.find(([value]) => value === event.currentTarget.value);
          if (chosen !== undefined) props.onChange(chosen[0]);
        }}
      >
        {props.options.map(([value, text]) => (
          <option key={value} value={value}>
            {text}
          </option>
        ))}
      </select>
    </p>
  );
};

export const Amount = (props: {
  readonly label: string;
  /** Text while nothing is entered yet. */
  readonly value: number | string;
  /** Absent: any number; else from 0.1 to this, and needed. */
  readonly most?: number;
  readonly onInput: (text: string) => void;
}) => {
  const id = useId();
  return (
    <p class="field">
      <label for={id}>{props.label}</label>
      <input
        id={id}
        type="number"
        inputMode="decimal"
        step="any"
        {...(props.most !== undefined && { min: '0.1', max: props.most, required: true })}
        value={props.value}
        onInput={(event) => props.onInput(event.currentTarget.value)}
      />
    </p>
  );
};

/** Shown and typed in the reader's unit, kept in degrees Celsius; not a number while nothing is entered. */
export const Degrees = (props: {
  readonly label: string;
  readonly celsius: number;
  readonly onCelsius: (celsius: number) => void;
}) => {
  const { unit } = reader.value;
  const [typed, setTyped] = useState<{ readonly text: string; readonly unit: string } | null>(null);
  return (
    <Amount
      label={`${props.label}, ${unitMark(unit)}`}
      value={typed?.unit === unit ? typed.text : celsiusShown(props.celsius, unit)}
      onInput={(text) => {
        setTyped({ text, unit });
        props.onCelsius(celsiusTyped(Number.parseFloat(text), unit));
      }}
    />
  );
};
