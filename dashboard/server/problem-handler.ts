// Turns whatever is thrown on the way of a request into a problem document. Details of our own bugs stay in the
// log; the caller gets a sentence without a stack, a path or a query.

import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify';
import {
  HttpProblem,
  type ProblemBody,
  type ProblemCode,
  PROBLEM_KINDS,
  problemBody,
} from './base/problem.ts';

const FRAMEWORK_ERRORS: Readonly<Record<string, ProblemCode>> = {
  FST_ERR_CTP_BODY_TOO_LARGE: 'body-too-large',
  FST_ERR_CTP_INVALID_MEDIA_TYPE: 'wrong-media-type',
  FST_ERR_CTP_INVALID_CONTENT_LENGTH: 'wrong-request',
  FST_ERR_CTP_EMPTY_JSON_BODY: 'malformed-json',
  FST_ERR_CTP_INVALID_JSON_BODY: 'malformed-json',
  FST_ERR_BAD_URL: 'wrong-request',
};

const DETAILS: Partial<Record<ProblemCode, string>> = {
  'body-too-large': 'Send less at once; the limit stands in the description of the interface.',
  'wrong-media-type': 'Send the body as application/json.',
  'malformed-json': 'The body could not be read as JSON; check quotes, commas and brackets.',
  'wrong-request': 'The address or a header could not be read.',
};

const fieldErrors = (error: FastifyError): NonNullable<ProblemBody['errors']> =>
  (error.validation ?? [])
    .filter((one) => one.message !== 'schema is false')
    .map((one) => {
      const extra = one.params?.additionalProperties ?? one.params?.requiredProperties;
      const names = Array.isArray(extra) ? `: ${extra.join(', ')}` : '';
      return {
        pointer: `/${error.validationContext ?? 'body'}${one.instancePath}`,
        detail: `${one.message ?? 'is not as expected'}${names}`,
      };
    });

const statusBelow500 = (error: FastifyError): boolean =>
  error.statusCode !== undefined && error.statusCode >= 400 && error.statusCode < 500;

const asProblem = (error: FastifyError): HttpProblem => {
  if (error.validation) {
    const errors = fieldErrors(error);
    const first = errors[0];
    const detail = first === undefined ? 'The request was refused.' : `${first.pointer} ${first.detail}.`;
    return new HttpProblem('wrong-request', detail, { errors });
  }
  const known = FRAMEWORK_ERRORS[error.code];
  const kind = known ?? (statusBelow500(error) ? 'wrong-request' : 'internal-error');
  return new HttpProblem(
    kind,
    DETAILS[kind] ?? 'The request could not be answered. The log of the program says why.',
  );
};

const sendProblem = (reply: FastifyReply, problem: HttpProblem): FastifyReply =>
  reply
    .code(PROBLEM_KINDS[problem.kind].status)
    .headers(problem.extras.headers ?? {})
    .header('cache-control', 'no-store')
    .type('application/problem+json')
    .serializer((body) => JSON.stringify(body))
    .send(problemBody(problem.kind, problem.message, problem.extras));

export const handleError = (
  error: FastifyError,
  request: FastifyRequest,
  reply: FastifyReply,
): FastifyReply => {
  const problem = error instanceof HttpProblem ? error : asProblem(error);
  if (problem.kind === 'internal-error') request.log.error({ err: error }, 'a request failed');
  return sendProblem(reply, problem);
};

export const handleUnknownAddress = (request: FastifyRequest, reply: FastifyReply): FastifyReply =>
  sendProblem(
    reply,
    new HttpProblem(
      'unknown-address',
      `${request.method} is not answered at this address; /api/ lists what is.`,
    ),
  );
