// A problem that ends what was begun: thrown where a start or a write cannot go on, and worded by whoever catches it.

import type { ProblemCode } from './problem-catalogue.ts';
import { type Problem, type ProblemValues, problem, problemLine } from './result.ts';

/** What an error says about itself, for the `reason` of a problem: its message, or its code where it has no message. */
export const reasonOf = (error: unknown): string => {
  if (!(error instanceof Error)) return String(error);
  return error.message || ('code' in error ? String(error.code) : error.name);
};

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

/** The problem that an error carries; for any other error `code` with what it says as the reason. */
export const problemOf = (error: unknown, code: ProblemCode): Problem =>
  error instanceof ProblemError ? error.problem : problem(code, { reason: reasonOf(error) });
