// `node scripts/make-map.mjs`: writes docs/map.md; `npm run check:imports` fails when it is stale.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { productImports } from './folder-circles.mjs';
import { mapPage } from './map-page.mjs';
import { root } from './ready.mjs';

writeFileSync(join(root, 'docs', 'map.md'), mapPage(productImports()));
