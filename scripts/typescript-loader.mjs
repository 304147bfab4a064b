// Strips the types of `.ts` modules as they are loaded; everything else goes its usual way. The stripper is plain
// JavaScript: those with native code crash the process when a thread that used them ends.
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { transform } from 'sucrase';

export async function load(url, context, nextLoad) {
  if (!url.startsWith('file:') || !url.endsWith('.ts')) return nextLoad(url, context);
  const { code } = transform(await readFile(fileURLToPath(url), 'utf8'), {
    transforms: ['typescript'],
    disableESTransforms: true,
    keepUnusedImports: true,
  });
  return { format: 'module', source: code, shortCircuit: true };
}
