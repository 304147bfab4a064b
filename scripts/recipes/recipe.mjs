// The shape of a recipe, and how its steps are carried out on a copy of the tree. A recipe writes whole new files and
// puts lines into existing ones at a place that it names, so that it fails loudly when the code has moved on.

import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

/**
 * @typedef {{ path: string, does: string, edit: (text: string) => string }} Step
 *   `does` completes "In this file ..."; `edit` is given the text of the file, empty for a new one.
 * @typedef {{ path: string, command: readonly string[] }} Generated a page and what writes it anew
 * @typedef {{ name: string, example: string, most: number | null, steps: readonly Step[], generated: readonly Generated[],
 *   tests: readonly string[] }} Recipe
 */

/** @returns {(text: string) => string} the text with `lines` before the first `mark` @throws where the mark is missing */
export const before = (mark, lines) => (text) => {
  if (!text.includes(mark))
    throw new Error(`"${mark}" is not there any more: the recipe must follow the code.`);
  return text.replace(mark, () => lines + mark);
};

/** @returns {(text: string) => string} one edit after the other */
export const edits =
  (...each) =>
  (text) =>
    each.reduce((changed, edit) => edit(changed), text);

/** @returns {(text: string) => string} a file of words with more of them, at its end */
export const moreWords = (words) => (text) =>
  `${JSON.stringify({ ...JSON.parse(text), ...words }, null, 2)}\n`;

/** Carries out the steps of a recipe in the tree. */
export function carryOut(tree, { steps }) {
  for (const { path, edit } of steps) {
    const file = join(tree, path);
    mkdirSync(dirname(file), { recursive: true });
    let text = '';
    try {
      text = readFileSync(file, 'utf8');
    } catch {
      // A new file.
    }
    writeFileSync(file, edit(text));
  }
}
