// `npm run make:science`: writes docs/science.md and its plots from the data and the docstrings of wax/.

import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { scienceFiles } from './science/written-files.ts';

const root = join(import.meta.dirname, '..');
mkdirSync(join(root, 'docs', 'science'), { recursive: true });
for (const { path, content } of scienceFiles((source) => readFileSync(join(root, source), 'utf8'))) {
  writeFileSync(join(root, path), content);
  console.log(path);
}
