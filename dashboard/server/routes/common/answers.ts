// Answers that several routes have in common.

import { Type } from 'typebox';

/** Answers that are a file of its own kind and not JSON. */
export const fileAnswers = (mediaType: string, description: string) => ({
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
