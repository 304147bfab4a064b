// `npm start` and `npm run demo`: installs and builds when needed, then hands over to cli/main.
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ensureBuilt, ensureInstalled, root } from './ready.mjs';

ensureInstalled();
ensureBuilt();
await import(pathToFileURL(join(root, 'dist', 'cli', 'main.js')).href);
