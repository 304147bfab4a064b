// The JSON schema of the lab file: it checks the file and is published as docs/generated/lab-file.schema.json, so that
// an editor completes and underlines while somebody writes one.

import { DescribedLabSchema } from './described-lab-schema.ts';
import { schemaInFileSpelling } from './lab-file-keys.ts';

export const LAB_FILE_SCHEMA: object = {
  $schema: 'http://json-schema.org/draft-07/schema#',
  title: 'Waxwarden lab file',
  ...Object(schemaInFileSpelling(DescribedLabSchema)),
};
