// A copy of the tree to try things on: the packages are linked, so that nothing may ever be installed there.

import { cpSync, mkdtempSync, readdirSync, readFileSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { root } from '../ready.mjs';

const NOT_COPIED = new Set(['node_modules', 'dist', '.git', 'screenshots']);
const isCopied = (path) =>
  !relative(root, path)
    .split('/')
    .some((part) => NOT_COPIED.has(part));

/** @returns {string} the folder of the copy */
export function scratchCopy() {
  const tree = mkdtempSync(join(tmpdir(), 'waxwarden-recipe-'));
  for (const name of readdirSync(root))
    if (isCopied(join(root, name)))
      cpSync(join(root, name), join(tree, name), { recursive: true, filter: isCopied });
  symlinkSync(join(root, 'node_modules'), join(tree, 'node_modules'));
  return tree;
}

/** @returns {ReadonlyMap<string, string>} what is in each file of the copy */
export const contentOf = (tree) =>
  new Map(
    readdirSync(tree, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name))
      .filter((file) => !/\/(node_modules|dist)\//.test(file))
      .map((file) => [relative(tree, file), readFileSync(file, 'latin1')]),
  );

/** @returns {readonly string[]} paths of what is new or other than it was */
export const changedSince = (before, tree) =>
  [...contentOf(tree)].filter(([path, text]) => before.get(path) !== text).map(([path]) => path);
