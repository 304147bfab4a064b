// Which patterns are named where a sentence or a box lists them: the table of the sheet has all, and hundreds of names
// would push everything else off the page. Pure.

import type { PatternLine } from '../../api/night.ts';

const MOST_NAMED = 12;

export const nameOfLine = ({ id, caseReference }: PatternLine): string =>
  caseReference === '' ? id : `${id} (${caseReference})`;

/** The first of them, on the sheet the worst, and how many more there are. */
export const firstNamed = (
  patterns: readonly PatternLine[],
): { readonly named: readonly PatternLine[]; readonly further: number } => ({
  named: patterns.slice(0, MOST_NAMED),
  further: Math.max(0, patterns.length - MOST_NAMED),
});

/** Their names in one line; `furtherText` says how many more there are. */
export const namesOf = (
  patterns: readonly PatternLine[],
  furtherText: (further: number) => string,
): string => {
  const { named, further } = firstNamed(patterns);
  return [...named.map(nameOfLine), ...(further === 0 ? [] : [furtherText(further)])].join(', ');
};
