// A value or a problem. Bad input from the world is a value, never an exception and never a silent NaN.

export interface Problem {
  /** Stable code in kebab-case; every one is listed in docs/errors.md. */
  readonly code: string;
  /** What is wrong, where, and what to do, in one English sentence. */
  readonly message: string;
  /** The offending value as text, cut to 200 characters. */
  readonly offending?: string;
}

export type Result<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problem: Problem };

export const success = <T>(value: T): Result<T> => ({ ok: true, value });

export const failure = (code: string, message: string, offending?: unknown): Result<never> => ({
  ok: false,
  problem:
    offending === undefined
      ? { code, message }
      : { code, message, offending: String(offending).slice(0, 200) },
});
