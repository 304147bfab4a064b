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
  /** English text of the older form, until every problem is given by its code and values. */
  readonly message: string;
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
  message: code,
  ...(Object.keys(values).length > 0 && { values }),
  ...(offending !== undefined && { offending: String(offending).slice(0, 200) }),
  ...(field !== undefined && { field }),
});

/** `failure('series-empty')`, `failure('out-of-range', { least_celsius: -200, most_celsius: 850 }, given)`. */
export const failure = (
  code: ProblemCode,
  values: ProblemValues | string = {},
  offending?: unknown,
  field?: string,
): Result<never> => ({
  ok: false,
  problem: {
    code,
    message: typeof values === 'string' ? values : code,
    ...(typeof values === 'string' || Object.keys(values).length === 0 ? {} : { values }),
    ...(offending === undefined ? {} : { offending: String(offending).slice(0, 200) }),
    ...(field === undefined ? {} : { field }),
  },
});
