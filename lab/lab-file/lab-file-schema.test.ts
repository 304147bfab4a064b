// Apart from the other tests of the lab file, so that writing the page anew does not wait for them.

import { expect, it } from 'vitest';
import { LAB_FILE_SCHEMA } from './lab-file-schema.ts';

it('the published schema of the lab file is the one that checks it', async () => {
  await expect(`${JSON.stringify(LAB_FILE_SCHEMA, null, 2)}\n`).toMatchFileSnapshot(
    '../../docs/generated/lab-file.schema.json',
  );
});
