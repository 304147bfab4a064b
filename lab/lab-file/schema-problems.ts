// What a JSON schema did not accept, field by field, as codes with the schema's own limits. Shared by the lab file and
// the interface, so that both refuse a value in the same words.

import type { ProblemCode, ProblemValues } from '../../wax/result.ts';

/** As the validator reports it. */
export interface SchemaError {
  readonly keyword: string;
  /** JSON pointer to the value. */
  readonly instancePath: string;
  readonly params: Readonly<Record<string, unknown>>;
}

export interface SchemaProblem {
  /** JSON pointer to the field; to where it should be when it is missing. */
  readonly pointer: string;
  readonly code: ProblemCode & `field-${string}`;
  readonly values?: ProblemValues;
}

const LIMITS: Readonly<Record<string, SchemaProblem['code']>> = {
  minimum: 'field-too-small',
  exclusiveMinimum: 'field-too-small',
  maximum: 'field-too-large',
  exclusiveMaximum: 'field-too-large',
  minLength: 'field-too-short',
  maxLength: 'field-too-long',
  minItems: 'field-too-few',
  minProperties: 'field-too-few',
  maxItems: 'field-too-many',
  maxProperties: 'field-too-many',
};

const FORMATS: Readonly<Record<string, SchemaProblem['code']>> = {
  date: 'field-not-a-day',
  'time-zone': 'field-not-a-time-zone',
};

/** A message rounds numbers for their reader; a limit must stay what it is. */
const writeExactly = (limit: number): number | string => (Number.isInteger(limit) ? limit : String(limit));

const names = (params: SchemaError['params'], key: string): readonly string[] => {
  const given = params[key];
  return Array.isArray(given) ? given.map(String) : [];
};

const escapePointerPart = (name: string): string => name.replaceAll('~', '~0').replaceAll('/', '~1');

const problemsOf = ({ keyword, params }: SchemaError, pointer: string): readonly SchemaProblem[] => {
  const limited = LIMITS[keyword];
  if (limited !== undefined)
    return [{ pointer, code: limited, values: { limit: writeExactly(Number(params.limit)) } }];
  switch (keyword) {
    case 'required':
      return names(params, 'requiredProperties').map((name) => ({
        pointer: `${pointer}/${escapePointerPart(name)}`,
        code: 'field-missing',
        values: { name },
      }));
    case 'additionalProperties':
      return names(params, 'additionalProperties').map((name) => ({
        pointer: `${pointer}/${escapePointerPart(name)}`,
        code: 'field-unknown',
        values: { name },
      }));
    case 'type':
      return [{ pointer, code: 'field-wrong-type', values: { type: String(params.type) } }];
    case 'enum':
      return [
        { pointer, code: 'field-not-listed', values: { allowed: names(params, 'allowedValues').join(', ') } },
      ];
    case 'format':
      return [{ pointer, code: FORMATS[String(params.format)] ?? 'field-wrong-form' }];
    case 'uniqueItems':
      return [{ pointer, code: 'field-repeated' }];
    case 'boolean':
      return [];
    default:
      return [{ pointer, code: 'field-wrong-form' }];
  }
};

/** A choice between schemas reports each that did not fit: constants become their list, "or nothing" is left out. */
const choiceProblems = (errors: readonly SchemaError[], pointer: string): readonly SchemaProblem[] => {
  const constants = errors.filter(({ keyword }) => keyword === 'const');
  if (constants.length > 0)
    return [
      {
        pointer,
        code: 'field-not-listed',
        values: { allowed: constants.map(({ params }) => String(params.allowedValue)).join(', ') },
      },
    ];
  const [first] = errors.filter(
    ({ keyword, params }) => keyword !== 'anyOf' && !(keyword === 'type' && params.type === 'null'),
  );
  return first === undefined ? [{ pointer, code: 'field-wrong-form' }] : problemsOf(first, pointer);
};

export const schemaProblems = (errors: readonly SchemaError[]): readonly SchemaProblem[] => {
  const groups = new Map<string, SchemaError[]>();
  for (const error of errors) {
    const group = groups.get(error.instancePath);
    if (group === undefined) groups.set(error.instancePath, [error]);
    else group.push(error);
  }
  return [...groups].flatMap(([pointer, group]) =>
    group.some(({ keyword }) => keyword === 'anyOf' || keyword === 'const')
      ? choiceProblems(group, pointer)
      : group.flatMap((error) => problemsOf(error, pointer)),
  );
};
