// `npm run check:imports`: who may import whom, by the rules of .dependency-cruiser.cjs, and no circle between folders at
// any depth. Names each import and each circle that breaks it, and reports when docs/map.md does not show the imports as they are.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { cruise, folderCircles, productImports } from './folder-circles.mjs';
import { mapPage } from './map-page.mjs';
import { PRODUCT, root } from './ready.mjs';

/** With fewer, the checker has not read the product. */
const FEWEST_IMPORTS = 1000;

const report = cruise([...PRODUCT, 'tests']);
const imports = productImports(report);
const faults = [
  ...report.summary.violations.map(({ from, rule, to }) => `${rule.name}: ${from} imports ${to}`),
  ...folderCircles(imports).map((circle) => `Folders import each other in a circle: ${circle.join(', ')}`),
];
if (imports.length < FEWEST_IMPORTS) faults.push(`Only ${imports.length} imports of the product were read.`);
if (!report.modules.some(({ source }) => source.startsWith('node_modules/')))
  faults.push('No import of a package was read, so that no door to one is checked.');
if (readFileSync(join(root, 'docs', 'map.md'), 'utf8') !== mapPage(imports))
  faults.push('docs/map.md is stale: run `node scripts/make-map.mjs`.');
for (const fault of faults) console.error(fault);
console.log(`${report.modules.length} modules, ${imports.length} imports within the product`);
process.exit(faults.length > 0 ? 1 : 0);
