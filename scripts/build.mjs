// `npm run build`: everything into dist/, whether or not it is there already.
import { build, ensureInstalled } from './ready.mjs';

ensureInstalled();
await build();
