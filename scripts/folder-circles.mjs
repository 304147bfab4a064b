// Circles between folders, at every depth of the tree: files may import each other without one while their folders do
// not.

import { spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { alg, Graph } from '@dagrejs/graphlib';
import { PRODUCT, root } from './ready.mjs';

/** What the checker of imports reports of these folders: every module with what it imports, and broken rules. */
export function cruise(folders = PRODUCT) {
  const { stdout, stderr } = spawnSync(
    process.execPath,
    [
      join(root, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs'),
      ...['--config', '.dependency-cruiser.cjs', '--output-type', 'json', ...folders],
    ],
    { cwd: root, maxBuffer: 1 << 28, encoding: 'utf8' },
  );
  if (stdout === '') throw new Error(stderr);
  return JSON.parse(stdout);
}

/** Imports of product code as pairs of paths from the root, tests left out. */
export function productImports({ modules } = cruise()) {
  const isProduct = (file) => PRODUCT.includes(file.split('/')[0]) && !/\.test\.tsx?$/.test(file);
  return modules
    .filter(({ source }) => isProduct(source))
    .flatMap(({ source, dependencies }) =>
      dependencies
        .filter(({ resolved }) => isProduct(resolved))
        .map(({ resolved }) => ({ from: source, to: resolved })),
    );
}

/**
 * Groups of folders that import each other in a circle.
 * @example folderCircles([{ from: 'a/x.ts', to: 'b/y.ts' }, { from: 'b/z.ts', to: 'a/w.ts' }]) // [['a', 'b']]
 */
export function folderCircles(imports) {
  const deepest = Math.max(
    0,
    ...imports.flatMap(({ from, to }) => [from, to]).map((file) => file.split('/').length - 1),
  );
  const circles = new Map();
  for (let depth = 1; depth <= deepest; depth += 1) {
    const folderOf = (file) => dirname(file).split('/').slice(0, depth).join('/');
    const graph = new Graph();
    for (const { from, to } of imports)
      if (folderOf(from) !== folderOf(to)) graph.setEdge(folderOf(from), folderOf(to));
    for (const circle of alg.findCycles(graph)) circles.set([...circle].sort().join(), [...circle].sort());
  }
  return [...circles.values()];
}
