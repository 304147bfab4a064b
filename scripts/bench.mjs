// `npm run bench -- NAME`: runs one bench of tests/bench on the built product; without a name, all but those that take
// hours, which run only when they are named.
// A bench prints one JSON object a line and asserts nothing.
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ensureBuilt, ensureInstalled, root, run } from './ready.mjs';

const folder = join(root, 'tests', 'bench');
const benches = readdirSync(folder)
  .filter((file) => file.endsWith('.ts'))
  .map((file) => file.slice(0, -'.ts'.length));
/** A day without a part; a thousand kills of the process; ten million messages. */
const ONLY_BY_NAME = ['away', 'kill', 'malformed', 'malformed-doors'];
const wanted = process.argv.slice(2);
const unknown = wanted.find((name) => !benches.includes(name));
if (unknown !== undefined) {
  console.error(`waxwarden bench: no bench is called "${unknown}"; there are: ${benches.join(', ')}.`);
  process.exit(2);
}
ensureInstalled();
await ensureBuilt();
const out = join(root, 'dist', 'bench');
run(join(root, 'node_modules', '.bin', 'tsc'), ['-p', 'tests/bench']);
for (const name of wanted.length > 0 ? wanted : benches.filter((name) => !ONLY_BY_NAME.includes(name))) {
  const file = join(out, 'tests', 'bench', `${name}.js`);
  if (!existsSync(file)) throw new Error(`the bench ${name} was not built`);
  const { run: runBench } = await import(pathToFileURL(file).href);
  await runBench();
}
process.exit(0);
