// Of all patterns those that wait and have a time, soonest first, and by what a pattern is called. Pure.

import type { PatternView } from '../../../../api/patterns.ts';

export type PatternDue = PatternView & { readonly investBy: string };

export const patternsDue = (rows: readonly PatternView[]): readonly PatternDue[] =>
  rows
    .flatMap((row) =>
      row.investBy !== null && row.fate === null ? [{ ...row, investBy: row.investBy }] : [],
    )
    .sort((earlier, later) => Date.parse(earlier.investBy) - Date.parse(later.investBy));

/** By its number where the case was erased. */
export const nameOfPattern = ({ caseReference, id }: Pick<PatternView, 'caseReference' | 'id'>): string =>
  caseReference === '' ? id : caseReference;
