// How a route is described in the interface, who may call it, and what every route answers when it is refused.

import type { FastifySchema } from 'fastify';
import { Type } from 'typebox';
import type { ProblemBody } from '../../base/problem.ts';
import type { Need } from '../../sign-in/permissions.ts';

export const TAGS = [
  { name: 'measuring', description: 'Stations, probes, readings, the live stream' },
  { name: 'alarms', description: 'Alarms and what people do to them' },
  { name: 'notices', description: 'Alarms on phones, the notification plan, what was sent' },
  { name: 'patterns', description: 'Wax patterns from the bench to the ring' },
  { name: 'night', description: 'The night sheet and the month sheet' },
  { name: 'evidence', description: 'Records for a quality system: spans, signed causes, training' },
  { name: 'charges', description: 'The wax in the pots, loads of annealers' },
  { name: 'lots', description: 'Lots of wax, the sheets of their makers, recalls' },
  { name: 'set-up', description: 'The described lab and the figures of its wax' },
  { name: 'people', description: 'Sign-in, people, tokens, wall links, audit trail' },
] as const;
type Tag = (typeof TAGS)[number]['name'];

const problem = (description: string) => ({
  description,
  content: { 'application/problem+json': { schema: Type.Unsafe<ProblemBody>({ $ref: 'Problem#' }) } },
});
const PROBLEMS = {
  '4xx': problem('The request was refused; `code` and `detail` say why'),
  '5xx': problem('The program could not answer'),
};

/** `schema.response` is what it answers when all is well; for all else a problem document is added. */
export const describeRoute = <
  Schema extends FastifySchema & { readonly response: { readonly 200: unknown } },
>(
  needs: Need,
  tag: Tag,
  summary: string,
  schema: Schema,
) => ({
  config: { needs },
  schema: { tags: [tag], summary, ...schema, response: { ...schema.response, ...PROBLEMS } },
});
