// Turns whatever is thrown on the way of a request into a problem document in the reader's language. Details of our
// own bugs stay in the log; the caller gets a code without a stack, a path or a query.

import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify';
import { PROBLEMS, type WebProblemCode } from '../../wax/problem-catalogue.ts';
import type { Say } from '../../words/load-languages.ts';
import { databaseRefusal } from '../../lab/database/database.ts';
import { ProblemError } from '../../wax/problem-error.ts';
import { asHttpProblem as ofProblem, type FieldProblem, HttpProblem } from './base/problem.ts';
import { problemBody } from './problem-text.ts';
import { type SchemaError, schemaProblems } from '../../lab/lab-file/schema-problems.ts';

const FRAMEWORK_ERRORS: Readonly<Record<string, WebProblemCode>> = {
  FST_ERR_CTP_BODY_TOO_LARGE: 'body-too-large',
  FST_ERR_CTP_INVALID_MEDIA_TYPE: 'wrong-media-type',
  FST_ERR_CTP_INVALID_CONTENT_LENGTH: 'wrong-request',
  FST_ERR_CTP_EMPTY_JSON_BODY: 'malformed-json',
  FST_ERR_CTP_INVALID_JSON_BODY: 'malformed-json',
  FST_ERR_BAD_URL: 'wrong-request',
};

const isRefusal = ({ statusCode }: FastifyError): boolean =>
  statusCode !== undefined && statusCode >= 400 && statusCode < 500;

/** What a schema did not accept; `part` of the request: `body`, `querystring`, `params`, `headers`. */
const fieldsIn = (part: string, errors: readonly SchemaError[]): readonly FieldProblem[] =>
  schemaProblems(errors).map(({ pointer, ...problem }) => ({ pointer: `/${part}${pointer}`, ...problem }));

const asHttpProblem = (error: FastifyError): HttpProblem => {
  if (error instanceof HttpProblem) return error;
  // What a disk or a database refuses is named; where it lies on this machine is nobody's business.
  const refusal = error instanceof ProblemError ? error : databaseRefusal(error, '');
  if (refusal !== null) return ofProblem({ code: refusal.code });
  if (error.validation)
    return new HttpProblem('wrong-request', {
      errors: fieldsIn(error.validationContext ?? 'body', error.validation),
    });
  return new HttpProblem(
    FRAMEWORK_ERRORS[error.code] ?? (isRefusal(error) ? 'wrong-request' : 'internal-error'),
  );
};

/** `sayOf` gives messages in the requester's language; it must hold for requests that failed before they were understood. */
export const problemHandler =
  (sayOf: (request: FastifyRequest) => Say) =>
  (error: FastifyError, request: FastifyRequest, reply: FastifyReply): FastifyReply => {
    const problem = asHttpProblem(error);
    if (problem.code === 'internal-error') request.log.error({ err: error }, 'a request failed');
    return reply
      .code(PROBLEMS[problem.code].status)
      .headers(problem.extras.headers ?? {})
      .header('cache-control', 'no-store')
      .type('application/problem+json')
      .serializer((body) => JSON.stringify(body))
      .send(problemBody(sayOf(request), problem));
  };
