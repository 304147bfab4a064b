// Errors on the wire, as RFC 9457 problem details: one way to throw, one shape. A problem travels as code and values;
// its sentences are made for the reader when the answer is written.

import { type Static, Type } from 'typebox';
import { PROBLEMS, type WebProblemCode } from '../../../wax/problem-catalogue.ts';
import type { Problem, ProblemValues } from '../../../wax/result.ts';

const Values = Type.Record(Type.String(), Type.Union([Type.String(), Type.Number()]), {
  description: 'What the texts name: numbers, names, times; a quantity has its unit in the name',
});

export const ProblemBody = Type.Object(
  {
    type: Type.String({ description: 'Where the code is explained, relative to this server' }),
    title: Type.String({ description: 'The kind of problem, the same for each of its kind' }),
    status: Type.Integer({ description: 'The HTTP status again' }),
    detail: Type.String({ description: 'What is wrong this time, where, and what to do' }),
    code: Type.String({ description: 'Stable name of the problem, for programs' }),
    values: Type.Optional(Values),
    field: Type.Optional(Type.String({ description: 'JSON pointer to the first field that was refused' })),
    offending: Type.Optional(
      Type.String({ description: 'The value that was refused, at most 200 characters' }),
    ),
    errors: Type.Optional(
      Type.Array(
        Type.Object({
          pointer: Type.String({
            description: 'JSON pointer to the field; the first part says where it was',
          }),
          code: Type.String({ description: 'Stable name of what is wrong with the field' }),
          values: Type.Optional(Values),
          detail: Type.String({ description: 'What is wrong with the field' }),
        }),
        { description: 'The fields that were refused' },
      ),
    ),
  },
  { $id: 'Problem', title: 'Problem', description: 'A problem as RFC 9457 describes it' },
);
export type ProblemBody = Static<typeof ProblemBody>;

/** What is wrong with one field of a request. */
export interface FieldProblem {
  /** JSON pointer; the first part is where the field was: `/body/at`, `/querystring/from`. */
  readonly pointer: string;
  readonly code: WebProblemCode;
  readonly values?: ProblemValues;
}

export interface ProblemExtras {
  readonly values?: ProblemValues;
  readonly offending?: string;
  readonly errors?: readonly FieldProblem[];
  readonly headers?: Readonly<Record<string, string>>;
}

/** Thrown by routes and hooks; the error handler turns it into the answer. */
export class HttpProblem extends Error {
  override readonly name = 'HttpProblem';
  readonly code: WebProblemCode;
  readonly extras: ProblemExtras;
  constructor(code: WebProblemCode, extras: ProblemExtras = {}) {
    super(code);
    this.code = code;
    this.extras = extras;
  }
}

const isWebProblem = (code: string): code is WebProblemCode =>
  Object.entries(PROBLEMS).some(([listed, { status }]) => listed === code && status !== null);

/** A problem of the lab, the wax or an alarm's life as the answer to a request; one that no answer may have is our own mistake. */
export const asHttpProblem = ({
  code,
  values,
  offending,
}: Pick<Problem, 'code' | 'values' | 'offending'>): HttpProblem =>
  new HttpProblem(isWebProblem(code) ? code : 'internal-error', {
    ...(values !== undefined && { values }),
    ...(offending !== undefined && { offending }),
  });

/** What is wrong with a value by the lab or a rule, as a problem of the field that it came in. */
export const fieldOf = (
  pointer: string,
  { code, values }: Pick<Problem, 'code' | 'values'>,
): FieldProblem => ({
  pointer,
  code: isWebProblem(code) ? code : 'wrong-request',
  ...(values !== undefined && { values }),
});

/** One field of a request was refused. */
export const fieldProblem = (pointer: string, code: WebProblemCode, values?: ProblemValues): HttpProblem =>
  new HttpProblem('wrong-request', { errors: [{ pointer, code, ...(values !== undefined && { values }) }] });
