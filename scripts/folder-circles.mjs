// Circles between folders, at every depth of the tree: files may import each other without one while their folders do
// not. `node scripts/folder-circles.mjs [ROOT]` prints each circle of the product's folders and fails when there is one.

import { execFileSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { alg, Graph } from '@dagrejs/graphlib';
import { PRODUCT, root } from './ready.mjs';

/** Imports of product code as pairs of paths from the root, tests left out. */
export function productImports(tree = root) {
  const json = execFileSync(
    process.execPath,
    [
      join(root, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs'),
      ...['--config', '.dependency-cruiser.cjs', '--output-type', 'json', ...PRODUCT],
    ],
    { cwd: tree, maxBuffer: 1 << 28, encoding: 'utf8' },
  );
  const isProduct = (file) => PRODUCT.includes(file.split('/')[0]) && !/\.test\.tsx?$/.test(file);
  return JSON.parse(json)
    .modules.filter(({ source }) => isProduct(source))
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

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const circles = folderCircles(productImports());
  for (const circle of circles) console.error(`Folders import each other in a circle: ${circle.join(', ')}`);
  process.exit(circles.length > 0 ? 1 : 0);
}
