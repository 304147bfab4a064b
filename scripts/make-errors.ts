// `npm run make:errors`: writes docs/errors.md.

import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { errorsPage } from './errors-page.ts';

writeFileSync(join(import.meta.dirname, '..', 'docs', 'errors.md'), errorsPage());
