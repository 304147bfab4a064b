import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');

it('the map of the folders shows the imports as they are', () => {
  expect(() =>
    execFileSync('node', ['scripts/make-map.mjs', '--check'], { cwd: root, stdio: 'pipe' }),
  ).not.toThrow();
});
