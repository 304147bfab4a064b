// `npm run gateway -- FILE`: installs and builds when needed, then hands over to gateway/main.
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ensureBuilt, ensureInstalled, root } from './ready.mjs';

ensureInstalled();
ensureBuilt();
await import(pathToFileURL(join(root, 'dist', 'gateway', 'main.js')).href);
