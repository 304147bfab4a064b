// The fields of every form as plain data: the screens read the limits of the interface's schemas, and do not load the
// library that those are written with.

import type { Plugin } from 'vite';
import { FORM_FIELDS } from '../api/form-fields.ts';

const MODULE = /\/dashboard\/api\/form-fields\.ts$/;

export const formFields = (): Plugin => ({
  name: 'form-fields',
  enforce: 'pre',
  load: (id) => (MODULE.test(id) ? `export const FORM_FIELDS = ${JSON.stringify(FORM_FIELDS)};` : null),
});
