// A problem that ends what was begun: thrown where a start or a write cannot go on, and worded by whoever catches it.

import type { ProblemCode } from './problem-catalogue.ts';
import { type Problem, type ProblemValues, problem, problemLine } from './result.ts';

/** The code that Node and its libraries give an error, such as `ECONNREFUSED`; undefined where there is none. */
export const errorCode = (error: unknown): unknown =>
  error instanceof Error && 'code' in error ? error.code : undefined;

/** What an error holds about itself, for the `reason` of a problem: its message, or its code where it has no message. */
export const reasonOf = (error: unknown): string =>
  error instanceof Error ? error.message || String(errorCode(error) ?? error.name) : String(error);

export class ProblemError<Code extends ProblemCode = ProblemCode> extends Error {
  readonly code: Code;
  readonly problem: Problem;
  constructor(code: Code, values: ProblemValues, cause?: unknown) {
    const reason = problem(code, values);
    super(problemLine(reason), cause === undefined ? undefined : { cause });
    this.name = new.target.name;
    this.code = code;
    this.problem = reason;
  }
}

/** The problem that an error carries; for any other error `code` with its message as the reason. */
export const problemOf = (error: unknown, code: ProblemCode): Problem =>
  error instanceof ProblemError ? error.problem : problem(code, { reason: reasonOf(error) });
