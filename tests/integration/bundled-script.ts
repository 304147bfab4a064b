// A script of the tests in one plain file, for those that start it dozens of times: from sources each start would strip
// the types of some hundred files.

import { cpSync, mkdtempSync, readdirSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { build } from 'vite';

const root = join(import.meta.dirname, '..', '..');

/** `script` is its path from the root of the checkout; `remove` deletes what was made. */
export const bundleScript = async (script: string): Promise<{ file: string; remove: () => void }> => {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-script-'));
  const target = { ssr: script, outDir: folder, emptyOutDir: false, target: 'node20' };
  // Packages too, but for the one that is compiled: each is some files more to find and read at each start.
  const ssr = { noExternal: true as const, external: ['better-sqlite3'] };
  await build({ configFile: false, root, logLevel: 'error', ssr, build: target });
  symlinkSync(join(root, 'node_modules'), join(folder, 'node_modules'));
  // The words are read from beside the code.
  for (const language of readdirSync(join(root, 'words'), { withFileTypes: true }))
    if (language.isDirectory())
      cpSync(join(root, 'words', language.name), join(folder, language.name), { recursive: true });
  return {
    file: join(folder, basename(script).replace(/\.ts$/, '.js')),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
};
