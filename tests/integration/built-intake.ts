// The intake as it is built: from sources each start of its thread would strip the types of some hundred files.

import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

type StartIntake = typeof import('../../collector/intake/start-intake.ts');

/** From the root of the checkout, where tests run. */
const file = resolve('dist/collector/intake/start-intake.js');

export const { startIntake }: StartIntake = await import(pathToFileURL(file).href);
