// Builds the screens once for all browser tests of a run, into a folder of its own, so that no test meets an older
// build in dist/.

import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'vite';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    /** The folder of the built screens; tests only read it. */
    webRoot: string;
  }
}

/** Called by vitest before the first browser test; what it answers is called after the last. */
export default async function buildScreens(project: TestProject): Promise<() => Promise<void>> {
  const folder = await mkdtemp(join(tmpdir(), 'waxwarden-screens-'));
  const configFile = join(import.meta.dirname, '..', '..', 'dashboard', 'web', 'vite.config.ts');
  await build({ configFile, logLevel: 'error', build: { outDir: folder } });
  project.provide('webRoot', folder);
  return () => rm(folder, { recursive: true, force: true });
}
