// `npm run check:imports`: who may import whom, by the rules of .dependency-cruiser.cjs, and no circle between folders at
// any depth. Names each import and each circle that breaks it.

import { cruise, folderCircles, productImports } from './folder-circles.mjs';
import { PRODUCT } from './ready.mjs';

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
for (const fault of faults) console.error(fault);
console.log(`${report.modules.length} modules, ${imports.length} imports within the product`);
process.exit(faults.length > 0 ? 1 : 0);
