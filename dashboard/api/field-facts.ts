// What a form needs of a field, read off the schema by which the server checks it: kind, limits, choices, unit.
// Plain data, so that the build can hand it to the screens without the schema library.

import type { TSchema } from 'typebox';

export type FieldUnit =
  | 'celsius'
  | 'celsius-difference'
  | 'seconds'
  | 'minutes'
  | 'hours'
  | 'grams'
  | 'millimetres'
  | 'micrometres';

export interface FieldFacts {
  readonly type: 'number' | 'integer' | 'string' | 'boolean' | 'array' | 'object' | 'any';
  readonly isRequired: boolean;
  /** Null may be sent for "none". */
  readonly isNullable: boolean;
  readonly unit?: FieldUnit;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly pattern?: string;
  readonly format?: string;
  readonly choices?: readonly string[];
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly items?: FieldFacts;
  readonly fields?: FormFields;
}
export type FormFields = Readonly<Record<string, FieldFacts>>;

/** Differences, also those over an hour, and those whose name, which is fixed by the lab file, does not show it. */
const DIFFERENCES =
  /^(correction|uncertainty|scatter|reference_uncertainty|resolution)_celsius$|_celsius_(difference|per_hour)$/;
const UNITS: readonly FieldUnit[] = [
  'celsius',
  'seconds',
  'minutes',
  'hours',
  'grams',
  'millimetres',
  'micrometres',
];

/**
 * The unit that ends a field's name.
 * @example unitOf('window_celsius') // 'celsius'
 * @example unitOf('lengthMillimetres') // 'millimetres'
 */
export const unitOf = (name: string): FieldUnit | undefined =>
  DIFFERENCES.test(name)
    ? 'celsius-difference'
    : UNITS.find((unit) => new RegExp(`(^|_)${unit}$`, 'i').test(name.replace(/([a-z])([A-Z])/g, '$1_$2')));

interface JsonSchema {
  readonly type?: FieldFacts['type'] | 'null';
  readonly enum?: readonly string[];
  readonly const?: unknown;
  readonly anyOf?: readonly JsonSchema[];
  readonly items?: JsonSchema;
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly required?: readonly string[];
}

const LIMITS = [
  'minimum',
  'maximum',
  'exclusiveMinimum',
  'minLength',
  'maxLength',
  'pattern',
  'format',
  'minItems',
  'maxItems',
] as const;

/** A choice of constants is one field with choices; "or null" is the field itself. */
const withoutChoice = (schema: JsonSchema): { readonly schema: JsonSchema; readonly isNullable: boolean } => {
  const { anyOf } = schema;
  if (anyOf === undefined) return { schema, isNullable: false };
  const kinds = anyOf.filter(({ type }) => type !== 'null');
  const isNullable = kinds.length < anyOf.length;
  if (kinds.every((kind) => kind.const !== undefined))
    return { schema: { type: 'string', enum: kinds.map((kind) => String(kind.const)) }, isNullable };
  const [first] = kinds;
  return { schema: kinds.length === 1 && first !== undefined ? first : {}, isNullable };
};

const factsOf = (name: string, given: JsonSchema, isRequired: boolean): FieldFacts => {
  const { schema, isNullable } = withoutChoice(given);
  const unit = unitOf(name);
  const limits = Object.fromEntries(
    LIMITS.flatMap((limit) => {
      const value: unknown = Reflect.get(schema, limit);
      return value === undefined ? [] : [[limit, value]];
    }),
  );
  return {
    type:
      schema.type === undefined || schema.type === 'null' ? (schema.enum ? 'string' : 'any') : schema.type,
    isRequired,
    isNullable,
    ...(unit !== undefined && { unit }),
    ...limits,
    ...(schema.enum !== undefined && { choices: schema.enum }),
    ...(schema.items !== undefined && { items: factsOf(name, schema.items, true) }),
    ...(schema.properties !== undefined && { fields: fieldsOf(schema) }),
  };
};

const fieldsOf = ({ properties = {}, required = [] }: JsonSchema): FormFields =>
  Object.fromEntries(
    Object.entries(properties).map(([name, schema]) => [
      name,
      factsOf(name, schema, required.includes(name)),
    ]),
  );

/** The fields of a request's body by name. */
export const formFields = (body: TSchema): FormFields => fieldsOf(body as JsonSchema);
