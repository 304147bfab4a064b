// What a schema did not accept of a request, field by field, as codes with the schema's own limits.

import type { FastifySchemaValidationError } from 'fastify/types/schema.js';
import type { WebProblemCode } from '../../wax/problem-catalogue.ts';
import type { FieldProblem } from './base/problem.ts';

type SchemaError = Pick<FastifySchemaValidationError, 'keyword' | 'instancePath' | 'params'>;

const LIMITS: Readonly<Record<string, WebProblemCode>> = {
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

const names = (params: SchemaError['params'], key: string): readonly string[] => {
  const given = params[key];
  return Array.isArray(given) ? given.map(String) : [];
};

/** A message rounds numbers to whole ones; text it takes as it is. */
const limitOf = ({ limit }: SchemaError['params']): number | string =>
  Number.isInteger(limit) ? Number(limit) : String(limit);

const escaped = (name: string): string => name.replaceAll('~', '~0').replaceAll('/', '~1');

const problemsOf = ({ keyword, params }: SchemaError, pointer: string): readonly FieldProblem[] => {
  const limited = LIMITS[keyword];
  if (limited !== undefined) return [{ pointer, code: limited, values: { limit: limitOf(params) } }];
  switch (keyword) {
    case 'required':
      return names(params, 'requiredProperties').map((name) => ({
        pointer: `${pointer}/${escaped(name)}`,
        code: 'field-missing',
        values: { name },
      }));
    case 'additionalProperties':
      return names(params, 'additionalProperties').map((name) => ({
        pointer: `${pointer}/${escaped(name)}`,
        code: 'field-unknown',
        values: { name },
      }));
    case 'type':
      return [{ pointer, code: 'field-wrong-type', values: { type: String(params.type) } }];
    case 'enum':
      return [
        { pointer, code: 'field-not-listed', values: { allowed: names(params, 'allowedValues').join(', ') } },
      ];
    case 'uniqueItems':
      return [{ pointer, code: 'field-repeated' }];
    case 'boolean':
      return [];
    default:
      return [{ pointer, code: 'field-wrong-form' }];
  }
};

/** A choice between schemas reports each that did not fit: constants become their list, "or nothing" is left out. */
const choiceProblems = (errors: readonly SchemaError[], pointer: string): readonly FieldProblem[] => {
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

/** `part` is where the fields were: `body`, `querystring`, `params`, `headers`. */
export const validationProblems = (errors: readonly SchemaError[], part: string): readonly FieldProblem[] => {
  const paths = [...new Set(errors.map(({ instancePath }) => instancePath))];
  return paths.flatMap((path) => {
    const pointer = `/${part}${path}`;
    const group = errors.filter(({ instancePath }) => instancePath === path);
    return group.some(({ keyword }) => keyword === 'anyOf' || keyword === 'const')
      ? choiceProblems(group, pointer)
      : group.flatMap((error) => problemsOf(error, pointer));
  });
};
