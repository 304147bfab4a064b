// The pages of the folders: each top folder has one, and its example prints what the page shows.

import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { PRODUCT } from '../../scripts/ready.mjs';

const root = join(import.meta.dirname, '../..');
const FOLDERS = [...PRODUCT, 'tests', 'scripts', 'docs'];
const pageOf = (folder: string): string => {
  const file = join(root, folder, 'README.md');
  return existsSync(file) ? readFileSync(file, 'utf8') : '';
};
/** Command and the answer that is below it. */
const EXAMPLE = /```sh\n(node --import .*)\n# (.*)\n```/;

describe('the page of a folder', () => {
  it.each(FOLDERS)(
    '%s says what it is for, what it may import, what to read first, and shows an example',
    (folder) => {
      expect(pageOf(folder)).toMatch(
        /^# .+\n\n.+\n\n- \*\*May import:\*\* .+\n- \*\*Read first:\*\* .+\n\n[\s\S]+```sh\n/,
      );
    },
  );

  it.each(FOLDERS.filter((folder) => EXAMPLE.test(pageOf(folder))))(
    'of %s has an example that answers what it says',
    (folder) => {
      const [, command = '', answer = ''] = EXAMPLE.exec(pageOf(folder)) ?? [];
      const shown = execFileSync('sh', ['-c', command], {
        cwd: root,
        encoding: 'utf8',
        stdio: ['ignore', 'pipe', 'ignore'],
      });
      expect(shown.trim()).toBe(answer);
    },
  );
});
