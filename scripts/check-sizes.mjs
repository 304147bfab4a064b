// Weighs what each built screen loads before it can be used: script, style and the words that it shows in one
// language, as gzip sends them. Takes the folder of the build, by default dist/web. Fails when the wall is over 45 kB or
// any screen over 140 kB. Run after the build of the screens.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';

const BYTES_PER_KILOBYTE = 1000;
const WALL_LIMIT = 45 * BYTES_PER_KILOBYTE;
const SCREEN_LIMIT = 140 * BYTES_PER_KILOBYTE;
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
/** Round every screen but the wall. */
const around = needs('app/around.tsx', new Set(frame));
const lazy = Object.entries(manifest).filter(([, entry]) => entry.isDynamicEntry);
/** The heaviest language counts. */
const wordsOf = (part) => {
  const weights = lazy
    .filter(([key]) => /virtual:words\/[\w-]+\/([\w-]+)$/.exec(key)?.[1] === part)
    .map(([, entry]) => weigh(entry.file));
  if (weights.length === 0) throw new Error(`The build holds no words of ${part}.`);
  return Math.max(...weights);
};
const words = { wall: wordsOf('wall'), daily: wordsOf('daily'), setUp: wordsOf('set-up') };
const wordsFor = (key) => {
  if (key.startsWith('screens/wall/')) return words.wall;
  return words.wall + words.daily + (NEEDS_SET_UP_WORDS.test(key) ? words.setUp : 0);
};
const screens = lazy
  .filter(([key]) => key.startsWith('screens/'))
  .map(([key]) => ({
    screen: key,
    bytes: total(needs(key, new Set(key.startsWith('screens/wall/') ? frame : around))) + wordsFor(key),
    limit: key.startsWith('screens/wall/') ? WALL_LIMIT : SCREEN_LIMIT,
  }));
if (!screens.some(({ screen }) => screen.startsWith('screens/wall/')))
  throw new Error('The build holds no wall.');

for (const { screen, bytes, limit } of screens)
  console.log(
    `${(bytes / BYTES_PER_KILOBYTE).toFixed(1).padStart(6)} kB of ${limit / BYTES_PER_KILOBYTE}  ${screen}`,
  );
const heavy = screens.filter(({ bytes, limit }) => bytes > limit);
if (heavy.length > 0) {
  console.error(`Too heavy: ${heavy.map(({ screen }) => screen).join(', ')}`);
  process.exitCode = 1;
}
