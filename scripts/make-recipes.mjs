// `node scripts/make-recipes.mjs`: writes docs/recipes.md.

import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { root } from './ready.mjs';
import { recipesPage } from './recipes/recipes-page.mjs';

writeFileSync(join(root, 'docs', 'recipes.md'), recipesPage());
