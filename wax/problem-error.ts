// A problem that ends what was begun: thrown where a start or a write cannot go on, and worded by whoever catches it.

import type { ProblemCode } from './problem-catalogue.ts';
import { type Problem, type ProblemValues, problem, problemLine } from './result.ts';

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
