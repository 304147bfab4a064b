// How a part of the running program is, as codes with values; it is worded where a person reads it.

import type { Problem, ProblemValues } from '../wax/result.ts';

/** What a part that works does; worded as `health.CODE`. */
export type PartStateCode =
  | 'listening'
  | 'connected'
  | 'writing'
  | 'applying'
  | 'as-set'
  | 'valid'
  | 'embedded'
  | 'influx';

export interface PartHealth {
  readonly ok: boolean;
  readonly state?: { readonly code: PartStateCode; readonly values?: ProblemValues };
  /** What is wrong, or still to be done though the part works. */
  readonly problems: readonly Problem[];
}

/** @example working('listening') // { ok: true, state: { code: 'listening' }, problems: [] } */
export const working = (code: PartStateCode, values?: ProblemValues): PartHealth => ({
  ok: true,
  state: { code, ...(values !== undefined && { values }) },
  problems: [],
});
export const failing = (...problems: readonly Problem[]): PartHealth => ({ ok: false, problems });
