// A problem in its reader's words: what is wrong this time, and what to do.

import type { Say } from './load-languages.ts';
import type { MessageKey } from './message-key.ts';
import type { Values } from './quantity.ts';

export interface CodedProblem {
  /** Of the catalogue of problems; one of older stored data may be unknown. */
  readonly code: string;
  readonly values?: Values;
}

/** Null where the code has no such text, or its text needs values that an older problem does not carry. */
const textOf = (say: Say, code: string, part: 'what' | 'title' | 'do', values?: Values): string | null => {
  const key = `error.${code}.${part}`;
  const text = say(key as MessageKey, values);
  return text === key ? null : text;
};

/** What is wrong this time; what is wrong in general where the problem has no values; its code where that is unknown. */
export const whatIsWrong = (say: Say, { code, values }: CodedProblem): string =>
  (values === undefined ? null : textOf(say, code, 'what', values)) ?? textOf(say, code, 'title') ?? code;

/** `whatIsWrong` and what to do about it. */
export const problemText = (say: Say, problem: CodedProblem): string =>
  [whatIsWrong(say, problem), textOf(say, problem.code, 'do', problem.values)]
    .filter((text) => text !== null)
    .join(' ');
