// What is wrong with a lab file, where it stands, and what was expected. Positions count from 1.

import { distance } from 'fastest-levenshtein';

export type LabFileProblemCode =
  | 'lab-file-unreadable'
  | 'lab-file-unknown-field'
  | 'lab-file-missing-field'
  | 'lab-file-wrong-value'
  | 'lab-file-contradiction';

export type Path = readonly (string | number)[];

/** A key of an older file: read as the key of today. */
export interface OldSpelling {
  readonly path: string;
  readonly line: number;
  readonly column: number;
  readonly oldKey: string;
  readonly newKey: string;
}

export interface LabFileProblem {
  readonly code: LabFileProblemCode;
  /** As a person writes it: `stations[2].kind`; empty for the file as a whole. */
  readonly path: string;
  readonly line: number;
  readonly column: number;
  /** What is wrong and what was expected, without the place. */
  readonly message: string;
}

/** One line: `file:line:column: path: message`. */
export const labFileProblemLine = (file: string, problem: LabFileProblem): string =>
  [`${file}:${problem.line}:${problem.column}`, problem.path, problem.message].filter(Boolean).join(': ');

export const pathText = (path: Path): string =>
  path
    .map((part) =>
      typeof part === 'number' ? `[${part}]` : /^[\w-]+$/.test(part) ? `.${part}` : `["${part}"]`,
    )
    .join('')
    .replace(/^\./, '');

/** `; did you mean "…"?` when one of the names is near, else nothing. */
export function didYouMean(given: unknown, names: readonly string[]): string {
  if (typeof given !== 'string') return '';
  const [nearest] = names
    .map((name) => ({ name, away: distance(given.toLowerCase(), name.toLowerCase()) }))
    .sort((a, b) => a.away - b.away);
  return nearest !== undefined && nearest.away <= Math.max(1, Math.floor(nearest.name.length / 3))
    ? `; did you mean "${nearest.name}"?`
    : '';
}
