// The fields of the forms: label, hint and what was refused belong together, for eyes and for those who listen.

import { useId, useLayoutEffect, useRef } from 'preact/hooks';
import type { ComponentChildren, RefObject, TargetedInputEvent, VNode } from 'preact';
import { unitMark } from '../base/format.ts';
import { type MessageKey, t } from '../base/messages.ts';
import { localDay } from '../base/local-days.ts';
import { now, reader } from '../live/lab-state.ts';
import { celsiusShown, celsiusTyped } from './figure-unit.ts';
import { ClockInput, DayInput, DayTimeInput, type WrittenInputProps } from './written-time-inputs.tsx';

interface Common {
  readonly label: MessageKey;
  readonly hint?: ComponentChildren;
  /** What the server refused about this field. */
  readonly error?: string | null;
}

const Labelled = (
  props: Common & {
    readonly labelText?: string | undefined;
    readonly place?: RefObject<HTMLDivElement | null>;
    readonly children: (attributes: {
      readonly id: string;
      readonly 'aria-describedby'?: string;
      readonly 'aria-invalid'?: 'true';
    }) => ComponentChildren;
  },
) => {
  const id = useId();
  const notes = [
    ...(props.hint === undefined ? [] : [`${id}-hint`]),
    ...(props.error ? [`${id}-error`] : []),
  ].join(' ');
  return (
    <div class="field" {...(props.place && { ref: props.place })}>
      <label for={id}>{props.labelText ?? t(props.label)}</label>
      {props.children({
        id,
        ...(notes === '' ? {} : { 'aria-describedby': notes }),
        ...(props.error ? { 'aria-invalid': 'true' } : {}),
      })}
      {props.hint !== undefined && (
        <span id={`${id}-hint`} class="dim">
          {props.hint}
        </span>
      )}
      {props.error && (
        <span id={`${id}-error`} class="entry-error" role="alert">
          {props.error}
        </span>
      )}
    </div>
  );
};

interface TextAttributes {
  readonly id: string;
  readonly value: string;
  readonly onInput: (event: TargetedInputEvent<HTMLInputElement>) => void;
  readonly required: boolean;
  readonly autoComplete: string;
  readonly maxLength: number | undefined;
  readonly autoCapitalize?: 'none';
  readonly spellcheck?: boolean;
  readonly inputMode?: 'decimal';
}
/** Each type has attributes of its own, so each is written out. */
const INPUTS: Readonly<Record<'text' | 'password' | 'email', (attributes: TextAttributes) => VNode>> = {
  text: (attributes) => <input type="text" {...attributes} />,
  password: (attributes) => <input type="password" {...attributes} />,
  email: (attributes) => <input type="email" {...attributes} />,
};
/** Those that are written as the language of the screen writes them. */
const WRITTEN: Readonly<Record<'date' | 'time' | 'datetime-local', (props: WrittenInputProps) => VNode>> = {
  date: (props) => <DayInput {...props} />,
  time: (props) => <ClockInput {...props} />,
  'datetime-local': (props) => <DayTimeInput {...props} today={localDay(now.value, reader.value.timeZone)} />,
};
export type TextEntryType = keyof typeof INPUTS | keyof typeof WRITTEN;
const isWritten = (type: TextEntryType): type is keyof typeof WRITTEN => Object.hasOwn(WRITTEN, type);

export interface TextHabits {
  readonly autoComplete?: string;
  /** Id of a datalist with what is usual. */
  readonly list?: string;
  /** A name or a code, which a phone must not correct. */
  readonly isVerbatim?: boolean;
  /** A number that is kept as it is typed. */
  readonly isDecimal?: boolean;
  /** The one field that the form was opened for. */
  readonly hasFocus?: boolean;
}

type TextProps = Common &
  TextHabits & {
    readonly value: string;
    readonly onChange: (value: string) => void;
    readonly type?: TextEntryType;
    readonly required?: boolean;
    readonly maxLength?: number | undefined;
    readonly labelText?: string;
  };

export const TextEntry = ({
  label,
  labelText,
  hint,
  error,
  type = 'text',
  list,
  hasFocus,
  ...more
}: TextProps) => {
  const place = useRef<HTMLDivElement>(null);
  // Before the next key: whoever opened the form by keyboard types at once.
  useLayoutEffect(() => {
    if (hasFocus) place.current?.querySelector('input')?.focus();
  }, []);
  return (
    <Labelled label={label} labelText={labelText} hint={hint} place={place} error={error ?? null}>
      {(attributes) => {
        const {
          value,
          onChange,
          required = false,
          autoComplete = 'off',
          maxLength,
          isVerbatim,
          isDecimal,
        } = more;
        if (isWritten(type)) return WRITTEN[type]({ ...attributes, value, onChange, required });
        const all = {
          ...attributes,
          value,
          required,
          autoComplete,
          maxLength,
          ...(isDecimal ? { inputMode: 'decimal' as const } : {}),
          ...(isVerbatim ? { autoCapitalize: 'none' as const, spellcheck: false } : {}),
          onInput: (event: TargetedInputEvent<HTMLInputElement>) => onChange(event.currentTarget.value),
        };
        return list === undefined ? INPUTS[type](all) : <input type="text" list={list} {...all} />;
      }}
    </Labelled>
  );
};

/** Text of several lines, such as a template. */
export const AreaEntry = (
  props: Common & {
    readonly value: string;
    readonly onChange: (value: string) => void;
    readonly rows: number;
    readonly maxLength: number | undefined;
    readonly placeholder: string;
  },
) => (
  <Labelled label={props.label} hint={props.hint} error={props.error ?? null}>
    {(attributes) => (
      <textarea
        {...attributes}
        rows={props.rows}
        spellcheck={false}
        maxLength={props.maxLength}
        placeholder={props.placeholder}
        value={props.value}
        onInput={({ currentTarget }) => props.onChange(currentTarget.value)}
      />
    )}
  </Labelled>
);

type NumberProps = Common & {
  readonly value: number | null;
  readonly onChange: (value: number | null) => void;
  readonly labelText?: string | undefined;
  readonly required?: boolean;
  readonly min?: number | undefined;
  readonly max?: number | undefined;
};

export const NumberEntry = ({ label, labelText, hint, error, value, onChange, ...more }: NumberProps) => (
  <Labelled label={label} labelText={labelText} hint={hint} error={error ?? null}>
    {(attributes) => (
      <input
        type="number"
        inputMode="decimal"
        step="any"
        {...more}
        {...attributes}
        value={value ?? ''}
        onInput={(event) => {
          const { valueAsNumber } = event.currentTarget;
          onChange(Number.isNaN(valueAsNumber) ? null : valueAsNumber);
        }}
      />
    )}
  </Labelled>
);

/** Shown and typed in the reader's unit, kept in degrees Celsius. */
export const TemperatureEntry = ({
  celsius,
  onCelsius,
  label,
  ...more
}: Omit<NumberProps, 'value' | 'onChange' | 'labelText'> & {
  readonly celsius: number | null;
  readonly onCelsius: (celsius: number | null) => void;
}) => {
  const { unit } = reader.value;
  return (
    <NumberEntry
      {...more}
      label={label}
      labelText={`${t(label)}, ${unitMark(unit)}`}
      value={celsius === null ? null : celsiusShown(celsius, unit)}
      onChange={(value) => onCelsius(value === null ? null : celsiusTyped(value, unit))}
    />
  );
};

export const ChoiceEntry = <T extends string>(
  props: Common & {
    readonly value: T;
    readonly options: readonly (readonly [value: T, text: string])[];
    readonly onChange: (value: T) => void;
  },
) => (
  <Labelled label={props.label} hint={props.hint} error={props.error ?? null}>
    {(attributes) => (
      <select
        {...attributes}
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
    )}
  </Labelled>
);

export const TickEntry = (props: {
  readonly label: MessageKey;
  readonly checked: boolean;
  readonly onChange: (checked: boolean) => void;
}) => {
  const id = useId();
  return (
    <p class="tick">
      <input
        type="checkbox"
        id={id}
        checked={props.checked}
        onChange={(event) => props.onChange(event.currentTarget.checked)}
      />
      <label for={id}>{t(props.label)}</label>
    </p>
  );
};
