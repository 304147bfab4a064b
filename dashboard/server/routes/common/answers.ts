// The response schemas of a route: what it answers when all is well, and a problem document for all else.

import { type TSchema, Type } from 'typebox';
import type { ProblemBody } from '../../base/problem.ts';

const problem = (description: string) => ({
  description,
  content: { 'application/problem+json': { schema: Type.Unsafe<ProblemBody>({ $ref: 'Problem#' }) } },
});

export const answers = <Good extends TSchema>(good: Good) => ({
  200: good,
  '4xx': problem('The request was refused; `code` and `detail` say why'),
  '5xx': problem('The program could not answer'),
});

/** Answers that are a file of its own kind and not JSON. */
export const fileAnswers = (mediaType: string, description: string) => ({
  ...answers(Type.Null()),
  200: {
    description,
    content: { [mediaType]: { schema: Type.Unsafe<string | Buffer>({ type: 'string' }) } },
  },
});

/** For acts that answer with nothing but that they were done. */
export const Done = Type.Object(
  { done: Type.Literal(true) },
  { description: 'It is done and kept; a restart does not undo it' },
);
export const DONE = { done: true } as const;
