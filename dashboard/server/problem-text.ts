// A problem in its reader's words, as an RFC 9457 body.

import { PROBLEMS, type WebProblemCode } from '../../wax/problem-catalogue.ts';
import type { ProblemValues } from '../../wax/result.ts';
import type { Say } from '../../words/load-languages.ts';
import { problemText, whatIsWrong } from '../../words/problem-text.ts';
import type { FieldProblem, HttpProblem, ProblemBody } from './base/problem.ts';

interface Problem {
  readonly code: WebProblemCode;
  readonly values?: ProblemValues;
}

const detailOf = (say: Say, problem: Problem, first: FieldProblem | undefined): string =>
  first === undefined ? problemText(say, problem) : `${first.pointer}: ${problemText(say, first)}`;

export const problemBody = (say: Say, { code, extras }: HttpProblem): ProblemBody => {
  const { values, offending, errors } = extras;
  const problem = { code, ...(values !== undefined && { values }) };
  const first = errors?.[0];
  return {
    type: `/api/#problem-${code}`,
    title: say(`error.${code}.title`),
    status: PROBLEMS[code].status,
    detail: detailOf(say, problem, first),
    code,
    ...(values !== undefined && { values: { ...values } }),
    ...(first !== undefined && { field: first.pointer }),
    ...(offending !== undefined && { offending }),
    ...(errors !== undefined && {
      errors: errors.map((field) => ({
        pointer: field.pointer,
        code: field.code,
        ...(field.values !== undefined && { values: { ...field.values } }),
        detail: whatIsWrong(say, field),
      })),
    }),
  };
};
