// The recipes for contributors, carried out one after the other on a copy of the tree.

import { execFileSync } from 'node:child_process';
import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { RECIPES } from '../../scripts/recipes/all-recipes.mjs';
import { carryOut } from '../../scripts/recipes/recipe.mjs';
import { recipesPage } from '../../scripts/recipes/recipes-page.mjs';
import { changedSince, contentOf, scratchCopy } from '../../scripts/recipes/scratch-copy.mjs';

const root = join(import.meta.dirname, '../..');
const MINUTES = 60_000;

/** What a command printed that failed; empty when it ended well. */
const complaintOf = (tree: string, [program = '', ...args]: readonly string[]): string => {
  try {
    execFileSync(program, args, { cwd: tree, stdio: 'pipe', encoding: 'utf8' });
    return '';
  } catch (error) {
    const { stdout = '', stderr = '' } = error as { readonly stdout?: string; readonly stderr?: string };
    return `${program} ${args.join(' ')}\n${stdout}${stderr}`;
  }
};

describe('the recipes for contributors', () => {
  let tree = '';
  beforeAll(() => {
    tree = scratchCopy();
  });
  afterAll(() => rmSync(tree, { recursive: true, force: true }));

  it.each(RECIPES)(
    'add a $name by changing the files that they list and no other',
    (recipe) => {
      const before = contentOf(tree);
      carryOut(tree, recipe);
      expect(recipe.generated.map(({ command }) => complaintOf(tree, command)).join('')).toBe('');
      const generated = recipe.generated.map(({ path }) => path);
      const listed = recipe.steps.map(({ path }) => path);
      expect([...changedSince(before, tree)].sort()).toEqual([...listed, ...generated].sort());
      expect(listed.length).toBeLessThanOrEqual(recipe.most ?? listed.length);
    },
    2 * MINUTES,
  );

  it(
    'leave a tree that compiles, is formatted and passes the tests that they name',
    () => {
      const touched = RECIPES.flatMap(({ steps }) => steps.map(({ path }) => path));
      const code = touched.filter((path) => /\.(tsx?|json)$/.test(path));
      const tests = RECIPES.flatMap((recipe) => recipe.tests);
      const commands = [
        ['npm', 'run', '--silent', 'check:types'],
        ['npx', 'biome', 'check', '--error-on-warnings', ...new Set(code)],
        ['npx', 'vitest', 'run', '--maxWorkers', '1', ...new Set(tests)],
      ];
      expect(
        commands
          .map((command) => complaintOf(tree, command))
          .join('\n')
          .trim(),
      ).toBe('');
    },
    6 * MINUTES,
  );
});

it('docs/recipes.md is generated from the recipes', () => {
  expect(readFileSync(join(root, 'docs/recipes.md'), 'utf8')).toBe(recipesPage());
});
