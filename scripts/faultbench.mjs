// `npm run faultbench -- --traces DIR`: judges the watch by labelled cases (docs/faultbench.md). Runs the sources as
// they are.
import { ensureInstalled } from './ready.mjs';

ensureInstalled();
await import('./typescript-hooks.mjs');
const { run } = await import('../tests/faultbench/faultbench.ts');
process.exit(await run(process.argv.slice(2)));
