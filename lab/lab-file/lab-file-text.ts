// A parsed lab file with the line and column of each value; it reads the keys of older files too.

import { type Document, isMap, isNode, isScalar, isSeq, type LineCounter, type ParsedNode } from 'yaml';
import { newSpelling } from './lab-file-keys.ts';
import { type LabFileProblem, type OldSpelling, type Path, pathText } from './lab-file-problem.ts';

export class LabFileText {
  readonly #document: Document.Parsed<ParsedNode>;
  readonly #lines: LineCounter;
  constructor(document: Document.Parsed<ParsedNode>, lines: LineCounter) {
    this.#document = document;
    this.#lines = lines;
  }

  /** A problem at the value of the path, at its key where a map has one; at the nearest parent that is there. */
  problem(path: Path, { code, values }: Pick<LabFileProblem, 'code' | 'values'>): LabFileProblem {
    return { code, ...this.#place(path), ...(values !== undefined && { values }) };
  }

  /**
   * Gives every key of an older file its spelling of today, in place. A key that is in both spellings is left,
   * so that the schema refuses it.
   */
  respell(): readonly OldSpelling[] {
    const found: OldSpelling[] = [];
    const visit = (node: unknown, path: Path): void => {
      if (isSeq(node)) for (const [index, item] of node.items.entries()) visit(item, [...path, index]);
      if (!isMap(node)) return;
      for (const { key, value } of node.items) {
        if (!isScalar(key) || typeof key.value !== 'string') continue;
        const oldKey = key.value;
        const newKey = newSpelling(path, oldKey);
        const isRead = newKey !== null && !node.has(newKey);
        if (isRead) {
          found.push({ ...this.#place([...path, oldKey]), oldKey, newKey });
          key.value = newKey;
        }
        visit(value, [...path, isRead ? newKey : oldKey]);
      }
    };
    visit(this.#document.contents, []);
    return found;
  }

  #place(path: Path) {
    const { line, col: column } = this.#lines.linePos(this.#offset(path));
    return { path: pathText(path), line, column };
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
