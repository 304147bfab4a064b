// Lets Node load the sources as they are: `node --import ./scripts/typescript-hooks.mjs cli/main.ts`. Tests start
// the intake thread this way; what is installed runs from dist/ and never sees this file.
import { register } from 'node:module';

register('./typescript-loader.mjs', import.meta.url);
