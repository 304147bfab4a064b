// Weighs what each built screen loads before it can be used: script, style and one catalogue of words, as gzip
// sends them. Takes the folder of the build, by default dist/web. Fails when the wall is over 52 kB or any screen over 140 kB. Run after the build of the screens.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';

const BYTES_PER_KILOBYTE = 1000;
const WALL_LIMIT = 52 * BYTES_PER_KILOBYTE;
const SCREEN_LIMIT = 140 * BYTES_PER_KILOBYTE;
const DAILY_WORDS = /virtual:words\/[\w-]+\/daily$/;
const SET_UP_WORDS = /virtual:words\/[\w-]+\/set-up$/;
const NEEDS_SET_UP_WORDS = /^screens\/(set-up|people|settings)\//;

const root = process.argv[2] ?? join(import.meta.dirname, '..', 'dist', 'web');
const manifest = JSON.parse(readFileSync(join(root, '.vite', 'manifest.json'), 'utf8'));
const weigh = (file) => gzipSync(readFileSync(join(root, file)), { level: 9 }).length;

/** Files that an entry needs, with everything it imports at once. */
const needs = (key, found = new Set()) => {
  const entry = manifest[key];
  found.add(entry.file);
  for (const style of entry.css ?? []) found.add(style);
  for (const imported of entry.imports ?? []) if (!found.has(manifest[imported].file)) needs(imported, found);
  return found;
};
const total = (files) => [...files].reduce((sum, file) => sum + weigh(file), 0);

const frame = needs('index.html');
const lazy = Object.entries(manifest).filter(([, one]) => one.isDynamicEntry);
const catalogue = Math.max(
  ...lazy.filter(([key]) => DAILY_WORDS.test(key)).map(([, one]) => weigh(one.file)),
);
const setUpWords = Math.max(
  ...lazy.filter(([key]) => SET_UP_WORDS.test(key)).map(([, one]) => weigh(one.file)),
);
const screens = lazy
  .filter(([key]) => !key.includes('virtual:words'))
  .map(([key]) => ({
    screen: key,
    bytes: total(needs(key, new Set(frame))) + catalogue + (NEEDS_SET_UP_WORDS.test(key) ? setUpWords : 0),
    limit: key.startsWith('screens/wall/') ? WALL_LIMIT : SCREEN_LIMIT,
  }));
if (!Number.isFinite(catalogue)) throw new Error('The build holds no catalogue of words.');
if (!screens.some((one) => one.screen.startsWith('screens/wall/')))
  throw new Error('The build holds no wall.');

for (const { screen, bytes, limit } of screens)
  console.log(
    `${(bytes / BYTES_PER_KILOBYTE).toFixed(1).padStart(6)} kB of ${limit / BYTES_PER_KILOBYTE}  ${screen}`,
  );
const heavy = screens.filter((one) => one.bytes > one.limit);
if (heavy.length > 0) {
  console.error(`Too heavy: ${heavy.map((one) => one.screen).join(', ')}`);
  process.exitCode = 1;
}
