// The fields of a form as the interface's own schema describes them: limits, length, unit, choices and whether one is
// required are read from it, and what the server refuses is shown at its field, with limits in the reader's unit.
//
//     const field = fieldsOf({ fields: FORM_FIELDS.station, saving }, draft, change);
//     <TextField {...field('name')} label="stations.name" />

import type { ComponentChildren } from 'preact';
import type { FieldFacts, FieldUnit, FormFields } from '../../api/field-facts.ts';
import type { FieldError } from '../base/api.ts';
import { formatSignificant, unitMark } from '../base/format.ts';
import { type MessageKey, t, word } from '../base/messages.ts';
import { reader } from '../live/lab-state.ts';
import {
  ChoiceEntry,
  NumberEntry,
  TextEntry,
  type TextEntryType,
  type TextHabits,
  TickEntry,
} from './entries.tsx';
import { fieldAt } from './field-at.ts';
import { figureShown, figureTyped } from './figure-unit.ts';
import type { Saving } from './saving.tsx';

export interface SchemaForm {
  readonly fields: FormFields;
  readonly saving: Pick<Saving, 'errorAt'>;
}

/** The fields of a form over its draft: `field('name')` is where one is in the body, its value, and how it changes. */
export const fieldsOf =
  <Draft extends object>(form: SchemaForm, draft: Draft, change: (part: Partial<Draft>) => void) =>
  <Name extends keyof Draft & string>(name: Name, at: string = name) => ({
    form,
    at,
    value: draft[name],
    onChange: (value: Draft[Name]) => change({ [name]: value } as unknown as Partial<Draft>),
  });

interface FieldProps {
  readonly form: SchemaForm;
  /** Path of the field in the body, for example `calibration/points/0/reading_celsius`. */
  readonly at: string;
  readonly label: MessageKey;
  readonly hint?: ComponentChildren;
  /** Words in place of the server's for the field. */
  readonly error?: string | null;
}

type Degrees = 'celsius' | 'celsius_difference';
/** The unit of what is shown in the reader's own; null for all else, which stays as it is. */
const degreesOf = (unit: FieldUnit | undefined): Degrees | null => {
  if (unit === 'celsius') return 'celsius';
  return unit === 'celsius-difference' ? 'celsius_difference' : null;
};

/** What was refused, in words. A limit comes in degrees Celsius; nobody is to take it for one in Fahrenheit. */
const errorText = (refused: FieldError | null, degrees: Degrees | null): string | null => {
  const limit = refused?.values?.limit;
  if (degrees === null || typeof limit !== 'number') return refused?.detail ?? null;
  const { unit } = reader.value;
  return t(refused?.code === 'field-too-small' ? 'field.at-least' : 'field.at-most', {
    limit: `${formatSignificant(figureShown(limit, degrees, unit), reader.value)} ${unitMark(unit)}`,
  });
};

/** The server takes an empty text for it, as for the user of a mail server without login. */
const takesEmptyText = ({ type, choices, minLength = 0, pattern = '', format }: FieldFacts): boolean =>
  type === 'string' &&
  choices === undefined &&
  format === undefined &&
  minLength === 0 &&
  new RegExp(pattern, 'u').test('');

/** What may be null may stay empty. */
const mustBeFilledIn = (facts: FieldFacts): boolean =>
  facts.isRequired && !facts.isNullable && !takesEmptyText(facts);

const common = ({ form, at, label, hint, error }: FieldProps, facts: FieldFacts) => ({
  label,
  hint,
  error: error ?? errorText(form.saving.errorAt(at), degreesOf(facts.unit)),
});

interface TextFieldProps extends FieldProps, TextHabits {
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly type?: TextEntryType;
  /** It stands for a whole list, which may be empty. */
  readonly mayBeEmpty?: boolean;
}

export const TextField = (props: TextFieldProps) => {
  const facts = fieldAt(props.form.fields, props.at);
  return (
    <TextEntry
      {...props}
      {...common(props, facts)}
      required={mustBeFilledIn(facts) && props.mayBeEmpty !== true}
      maxLength={facts.maxLength}
    />
  );
};

interface NumberFieldProps extends FieldProps {
  /** In the unit of the schema; null while nothing is entered. */
  readonly value: number | null;
  readonly onChange: (value: number | null) => void;
  /** In place of what the schema holds, where the form needs a value that the interface does not. */
  readonly isRequired?: boolean;
}

/** Shown and typed in the reader's unit where the schema gives one, kept in that of the schema. */
export const NumberField = (props: NumberFieldProps) => {
  const facts = fieldAt(props.form.fields, props.at);
  const { unit } = reader.value;
  const degrees = degreesOf(facts.unit);
  const shown = (stored: number): number => (degrees === null ? stored : figureShown(stored, degrees, unit));
  const toSchemaUnit = (value: number): number =>
    degrees === null ? value : figureTyped(value, degrees, unit);
  const min = facts.minimum ?? facts.exclusiveMinimum;
  return (
    <NumberEntry
      {...common(props, facts)}
      labelText={degrees === null ? undefined : `${t(props.label)}, ${unitMark(unit)}`}
      required={props.isRequired ?? mustBeFilledIn(facts)}
      min={min === undefined ? undefined : shown(min)}
      max={facts.maximum === undefined ? undefined : shown(facts.maximum)}
      value={props.value === null ? null : shown(props.value)}
      onChange={(value) => props.onChange(value === null ? null : toSchemaUnit(value))}
    />
  );
};

interface ChoiceFieldProps<T extends string> extends FieldProps {
  readonly value: T;
  readonly onChange: (value: T) => void;
  /** The group of words that names each choice, or its name itself. */
  readonly words: string | ((option: string) => string);
  /** What choosing nothing is called; absent: something must be chosen. */
  readonly none?: MessageKey;
}

export const ChoiceField = <T extends string>(props: ChoiceFieldProps<T>) => {
  const facts = fieldAt(props.form.fields, props.at);
  const { words } = props;
  const nameOf = typeof words === 'function' ? words : (option: string) => word(words, option);
  const named = (facts.choices ?? []).map((option) => [option, nameOf(option)] as const);
  return (
    <ChoiceEntry
      {...common(props, facts)}
      value={props.value}
      options={props.none === undefined ? named : [['', t(props.none)], ...named]}
      onChange={(chosen) => props.onChange(chosen as T)}
    />
  );
};

interface TickFieldProps extends FieldProps {
  readonly value: boolean;
  readonly onChange: (checked: boolean) => void;
}

export const TickField = (props: TickFieldProps) => {
  const { type } = fieldAt(props.form.fields, props.at);
  if (type !== 'boolean') throw new Error(`${props.at} is not a matter of yes and no.`);
  return <TickEntry label={props.label} checked={props.value} onChange={props.onChange} />;
};
