// What a schema did not accept of a request: each field with the part of the request that it stood in.

import { type SchemaError, schemaProblems } from '../../lab/lab-file/schema-problems.ts';
import type { FieldProblem } from './base/problem.ts';

/** `part` is where the fields were: `body`, `querystring`, `params`, `headers`. */
export const validationProblems = (errors: readonly SchemaError[], part: string): readonly FieldProblem[] =>
  schemaProblems(errors).map(({ pointer, ...problem }) => ({ pointer: `/${part}${pointer}`, ...problem }));
