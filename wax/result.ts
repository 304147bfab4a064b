// A value or a problem. Bad input from the world is a value, never an exception and never a silent NaN.

import type { ProblemCode } from './problem-catalogue.ts';

export type { ProblemCode } from './problem-catalogue.ts';

/**
 * What a problem's text names: numbers, names, times. A quantity carries its unit in the name (`limit_celsius`,
 * `longest_seconds`), so that it can be shown in the reader's unit.
 */
export type ProblemValues = Readonly<Record<string, string | number>>;

export interface Problem {
  readonly code: ProblemCode;
  readonly values?: ProblemValues;
  /** Which field of the input was refused, as a path: `stations/2/kind`. */
  readonly field?: string;
  /** The offending value as text, cut to 200 characters. */
  readonly offending?: string;
}

export type Result<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problem: Problem };

export const success = <T>(value: T): Result<T> => ({ ok: true, value });

/** `problem('series-empty')`, `problem('out-of-range', { least_celsius: -200, most_celsius: 850 }, given)`. */
export const problem = (
  code: ProblemCode,
  values: ProblemValues = {},
  offending?: unknown,
  field?: string,
): Problem => ({
  code,
  ...(Object.keys(values).length > 0 && { values }),
  ...(offending !== undefined && { offending: String(offending).slice(0, 200) }),
  ...(field !== undefined && { field }),
});

export const failure = (...facts: Parameters<typeof problem>): Result<never> => ({
  ok: false,
  problem: problem(...facts),
});

/** One line for a log or an exception, where no reader's language is known: `too-few-cycles: 2 (fewest 3)`. */
export const problemLine = ({ code, field, offending, values = {} }: Problem): string => {
  const named = Object.entries(values).map(([name, value]) => `${name} ${value}`);
  const line = [code, field, offending].filter((part) => part !== undefined).join(': ');
  return named.length === 0 ? line : `${line} (${named.join(', ')})`;
};
