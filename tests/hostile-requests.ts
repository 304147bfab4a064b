// Requests made from the interface's own description: mostly right, with a part put in place of another that has broken
// servers before. Each operation gets them, so that a new one is tried without a word here.

import fc from 'fast-check';
import { HOSTILE_NUMBERS, HOSTILE_TEXTS, HOSTILE_VALUES } from './hostile-values.ts';

type Method = 'GET' | 'POST' | 'PUT' | 'DELETE';
interface Schema {
  readonly type?: string | readonly string[];
  readonly anyOf?: readonly Schema[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: Schema | boolean;
  readonly items?: Schema;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly minimum?: number;
  readonly exclusiveMinimum?: number;
  readonly maximum?: number;
  readonly pattern?: string;
  readonly format?: string;
  readonly maxLength?: number;
}
interface Parameter {
  readonly name: string;
  readonly in: 'path' | 'query' | 'header';
  readonly required?: boolean;
  readonly schema: Schema;
}
interface DescribedOperation {
  readonly description?: string;
  readonly parameters?: readonly Parameter[];
  readonly requestBody?: { readonly content: { readonly 'application/json'?: { readonly schema: Schema } } };
}

export interface Operation {
  readonly method: Method;
  readonly path: string;
  /** The permission that the description names, `nothing` for what is open. */
  readonly needs: string;
  readonly parameters: readonly Parameter[];
  readonly body: Schema | null;
}

export interface HostileRequest {
  readonly method: Method;
  readonly url: string;
  readonly body: unknown;
}

/** Of the lab under test. */
interface Surroundings {
  /** Names that stand for something in it, by what they name, as addresses spell it: `stations`, `people`. */
  readonly ids: Readonly<Record<string, readonly string[]>>;
  /** Epoch milliseconds. */
  readonly now: number;
}

/** Every operation of a description, such as `/api/openapi.json` gives it. */
export const operationsOf = (description: { readonly paths?: object | undefined }): readonly Operation[] =>
  Object.entries<Readonly<Record<string, DescribedOperation>>>({ ...description.paths }).flatMap(
    ([path, methods]) =>
      Object.entries(methods).map(([method, operation]) => ({
        method: method.toUpperCase() as Method,
        path,
        needs: /Needs `([^`]+)`/.exec(operation.description ?? '')?.[1] ?? '',
        parameters: operation.parameters ?? [],
        body: operation.requestBody?.content['application/json']?.schema ?? null,
      })),
  );

const text = fc.oneof(
  { weight: 3, arbitrary: fc.constantFrom('Melt pot 2', 'Mara', 'a', '0', 'crown 14') },
  { weight: 1, arbitrary: fc.string({ maxLength: 30, unit: 'binary' }) },
);
const MILLIS_PER_DAY = 86_400_000;
const instantNear = (now: number): fc.Arbitrary<string> =>
  fc
    .integer({ min: now - 10 * MILLIS_PER_DAY, max: now + 2 * MILLIS_PER_DAY })
    .map((at) => new Date(at).toISOString());

const DAY = '^\\d{4}-\\d{2}-\\d{2}$';

/** `field` is the name of what is filled in. */
const textOf = (schema: Schema, { ids, now }: Surroundings, field: string): fc.Arbitrary<string> => {
  const named = ids[field] ?? ids[`${field}s`];
  const candidates = named ?? Object.values(ids).flat();
  const instant = instantNear(now);
  if (schema.format === 'date-time') return instant;
  if (schema.format === 'date') return instant.map((at) => at.slice(0, 10));
  const pattern = new RegExp(schema.pattern ?? '', 'u');
  const fitting = candidates.filter((each) => pattern.test(each));
  if (schema.pattern === DAY) return instant.map((at) => at.slice(0, 10));
  const isPlain = schema.pattern === undefined || /^\^\[\^|^\\S$|\(\?/.test(schema.pattern);
  const matching = isPlain ? text : fc.stringMatching(pattern);
  const made = matching.map((each) => each.slice(0, schema.maxLength ?? 200));
  if (fitting.length === 0) return made;
  return fc.oneof(
    { weight: 1, arbitrary: made },
    { weight: named === undefined ? 1 : 8, arbitrary: fc.constantFrom(...fitting) },
  );
};

const numberOf = ({ type, minimum, exclusiveMinimum, maximum }: Schema): fc.Arbitrary<number> => {
  const min = minimum ?? exclusiveMinimum ?? -1000;
  const max = maximum ?? Math.max(1000, min + 1000);
  return type === 'integer'
    ? fc.integer({ min: Math.ceil(min), max: Math.floor(max) })
    : fc.double({ min, max, noNaN: true });
};

/** What a schema takes, as far as it defines it. */
function fittingValue(schema: Schema, around: Surroundings, field = ''): fc.Arbitrary<unknown> {
  if (schema.anyOf !== undefined)
    return fc.oneof(...schema.anyOf.map((each) => fittingValue(each, around, field)));
  if (schema.enum !== undefined) return fc.constantFrom(...schema.enum);
  if (schema.const !== undefined) return fc.constant(schema.const);
  const [type] = typeof schema.type === 'string' ? [schema.type] : (schema.type ?? []);
  switch (type) {
    case 'object': {
      const required = new Set(schema.required);
      const fields = Object.entries(schema.properties ?? {});
      const given = fc.record(
        Object.fromEntries(fields.map(([name, each]) => [name, fittingValue(each, around, name)])),
        { requiredKeys: fields.map(([name]) => name).filter((name) => required.has(name)) },
      );
      if (typeof schema.additionalProperties !== 'object') return given;
      const more = fc.dictionary(
        fc.oneof(textOf({}, around, ''), fc.constantFrom(...HOSTILE_TEXTS.slice(2, 6))),
        fittingValue(schema.additionalProperties, around),
        { maxKeys: 3 },
      );
      return fc.tuple(given, more).map(([first, second]) => ({ ...first, ...second }));
    }
    case 'array':
      return fc.array(fittingValue(schema.items ?? {}, around, field), {
        minLength: schema.minItems ?? 0,
        maxLength: Math.max(schema.minItems ?? 0, Math.min(schema.maxItems ?? 3, 3)),
      });
    case 'string':
      return textOf(schema, around, field);
    case 'number':
    case 'integer':
      return numberOf({ ...schema, type });
    case 'boolean':
      return fc.boolean();
    case 'null':
      return fc.constant(null);
    default:
      return fc.constantFrom(...HOSTILE_VALUES);
  }
}

const hostileValue = fc.oneof(
  fc.constantFrom<unknown>(...HOSTILE_TEXTS),
  fc.constantFrom<unknown>(...HOSTILE_NUMBERS),
  fc.constantFrom(...HOSTILE_VALUES),
);

/** The value with one of its parts, chosen by `place` between 0 and 1, replaced. */
function withPart(value: unknown, place: number, part: unknown): unknown {
  if (typeof value !== 'object' || value === null) return part;
  const entries = Object.entries(value);
  const index = Math.floor(place * (entries.length + 1));
  const entry = entries[index];
  if (entry === undefined) return part;
  const inner = withPart(entry[1], place * (entries.length + 1) - index, part);
  if (Array.isArray(value)) return value.map((each: unknown, at) => (at === index ? inner : each));
  return Object.fromEntries(entries.map(([key, each], at) => [key, at === index ? inner : each]));
}

const oftenRight = (right: fc.Arbitrary<unknown>): fc.Arbitrary<unknown> =>
  fc.oneof(
    { weight: 5, arbitrary: right },
    {
      weight: 1,
      arbitrary: fc
        .tuple(right, fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }), hostileValue)
        .map(([value, place, part]) => withPart(value, place, part)),
    },
  );

/** Of `{id}` in an address: what comes before it. */
const fieldOf = (path: string, { name, in: place }: Parameter): string =>
  place === 'path' && name === 'id' ? (/([\w-]+)\/\{id\}/.exec(path)?.[1] ?? name) : name;

const inAddress = (value: unknown): string => {
  const written = typeof value === 'object' ? JSON.stringify(value) : String(value);
  // Half a surrogate pair has no form in an address.
  return encodeURIComponent(written.replace(/\p{Surrogate}/gu, '\uFFFD'));
};

/** Requests to one operation. */
export const hostileRequest = (operation: Operation, around: Surroundings): fc.Arbitrary<HostileRequest> => {
  const parameters = fc.tuple(
    ...operation.parameters.map((parameter) =>
      fc.record({
        parameter: fc.constant(parameter),
        isGiven: parameter.required === true ? fc.constant(true) : fc.boolean(),
        value: oftenRight(fittingValue(parameter.schema, around, fieldOf(operation.path, parameter))),
      }),
    ),
  );
  const body =
    operation.body === null ? fc.constant(undefined) : oftenRight(fittingValue(operation.body, around));
  return fc.tuple(parameters, body).map(([given, sent]) => {
    const path = given
      .filter(({ parameter }) => parameter.in === 'path')
      .reduce(
        (whole, { parameter, value }) => whole.replace(`{${parameter.name}}`, () => inAddress(value)),
        operation.path,
      );
    const query = given
      .filter(({ parameter, isGiven }) => parameter.in === 'query' && isGiven)
      .map(({ parameter, value }) => `${parameter.name}=${inAddress(value)}`);
    return {
      method: operation.method,
      url: query.length === 0 ? path : `${path}?${query.join('&')}`,
      body: sent,
    };
  });
};
