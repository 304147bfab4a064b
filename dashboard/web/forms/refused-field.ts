// What the server refused of one field, found by the field's path in the body. Pure.

import type { FieldError, Trouble } from '../base/api.ts';

/** Where a refused field was: in the request, or in the lab as the request would have left it. */
const PLACE = /^\/(body|site|(stations|probes)\/\d+)\//;

/** @example refusedField(refusal, 'calibration/day')?.detail // 'A day as YYYY-MM-DD' */
export const refusedField = (refusal: Trouble | null, path: string): FieldError | null =>
  refusal?.errors?.find(({ pointer }) => pointer.replace(PLACE, '') === path) ?? null;
