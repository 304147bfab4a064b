// What is wrong with a lab file and where. Positions count from 1.

import { distance } from 'fastest-levenshtein';
import type { ProblemCode, ProblemValues } from '../../wax/result.ts';

export type Path = readonly (string | number)[];

/** What is wrong, and where it is in the lab. */
export interface Contradiction {
  readonly path: Path;
  readonly code: ProblemCode;
  readonly values?: ProblemValues;
}

interface Place {
  /** As a person writes it: `stations[2].kind`; empty for the file as a whole. */
  readonly path: string;
  readonly line: number;
  readonly column: number;
}

export interface LabFileProblem extends Place {
  readonly code: ProblemCode;
  readonly values?: ProblemValues;
}

/** A key of an older file: read as the key of today. */
export interface OldSpelling extends Place {
  readonly oldKey: string;
  readonly newKey: string;
}

export const pathText = (path: Path): string =>
  path
    .map((part) =>
      typeof part === 'number' ? `[${part}]` : /^[\w-]+$/.test(part) ? `.${part}` : `["${part}"]`,
    )
    .join('')
    .replace(/^\./, '');

/** The name that was probably meant, as the value `near` of a message; `none` when no name is near. */
export function findNearestName(given: string, names: readonly string[]): string {
  const [closest] = names
    .map((name) => ({ name, away: distance(given.toLowerCase(), name.toLowerCase()) }))
    .sort((a, b) => a.away - b.away);
  return closest !== undefined && closest.away <= Math.max(1, Math.floor(closest.name.length / 3))
    ? closest.name
    : 'none';
}
