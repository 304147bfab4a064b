// What lies beside the built code: the version, the screens, the lab files.

import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { failure, type Result, success } from '../../wax/result.ts';

/** dist/ when built, the project when not. */
const base = join(import.meta.dirname, '..', '..');
/** The folder that holds package.json. */
const projectRoot = [base, dirname(base)].find((folder) => existsSync(join(folder, 'package.json')));

export const version: string =
  projectRoot === undefined
    ? '0.0.0'
    : JSON.parse(readFileSync(join(projectRoot, 'package.json'), 'utf8')).version;

const web = join(base, 'web');
/** null when the screens are not built; the API then serves alone. */
export const webRoot: string | null = existsSync(join(web, 'index.html')) ? web : null;

export const shippedLabFile = (name: 'demo' | 'starter'): string =>
  join(base, 'lab', 'files', `${name}.yaml`);

/** The fault bench runs the sources as they are, which a package does not bring. */
export function faultbenchScript(): Result<URL> {
  const script = join(projectRoot ?? base, 'scripts', 'faultbench.mjs');
  return existsSync(script)
    ? success(pathToFileURL(script))
    : failure('needs-clone', { command: 'faultbench' });
}
