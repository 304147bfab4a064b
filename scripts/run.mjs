#!/usr/bin/env -S node --disable-warning=ExperimentalWarning
// `npm start`, `npm run demo` and `waxwarden`: installs and builds when needed, then hands over to cli/main. A package
// that `npm pack` made has no sources; what it runs is built, and npm has installed what it needs.
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ensureBuilt, ensureInstalled, root } from './ready.mjs';

// Before the long work: whoever started this may be gone when it is done, and cli/main ends then.
process.env.WAXWARDEN_LAUNCHER = String(process.ppid);
if (existsSync(join(root, 'cli', 'main.ts'))) {
  ensureInstalled();
  await ensureBuilt();
}
await import(pathToFileURL(join(root, 'dist', 'cli', 'main.js')).href);
