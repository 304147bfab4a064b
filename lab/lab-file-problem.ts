// What is wrong with a lab file, where it stands, and what was expected. Positions count from 1.

import { distance } from 'fastest-levenshtein';
import { type Document, isMap, isNode, isScalar, type LineCounter, type ParsedNode } from 'yaml';

export type LabFileProblemCode =
  | 'lab-file-unreadable'
  | 'lab-file-unknown-field'
  | 'lab-file-missing-field'
  | 'lab-file-wrong-value'
  | 'lab-file-contradiction';

export type Path = readonly (string | number)[];

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

/** A parsed file that knows where each of its values stands. */
export class LabFileText {
  readonly #document: Document.Parsed<ParsedNode>;
  readonly #lines: LineCounter;
  constructor(document: Document.Parsed<ParsedNode>, lines: LineCounter) {
    this.#document = document;
    this.#lines = lines;
  }

  /** A problem at the value of the path, at its key where a map has one; at the nearest parent that is there. */
  problem(code: LabFileProblemCode, path: Path, message: string): LabFileProblem {
    const { line, col } = this.#lines.linePos(this.#offset(path));
    return { code, path: pathText(path), line, column: col, message };
  }

  #offset(path: Path): number {
    for (let length = path.length; length > 0; length -= 1) {
      const parent = this.#nodeAt(path.slice(0, length - 1));
      const pair = isMap(parent)
        ? parent.items.find(({ key }) => isScalar(key) && key.value === path[length - 1])
        : undefined;
      const node = pair?.key ?? this.#nodeAt(path.slice(0, length));
      if (isNode(node) && node.range) return node.range[0];
    }
    return this.#document.contents?.range[0] ?? 0;
  }

  #nodeAt(path: Path): unknown {
    return path.length === 0 ? this.#document.contents : this.#document.getIn(path, true);
  }
}
