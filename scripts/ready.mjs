// Makes a fresh clone runnable: installs what the lock file names and builds what is older than its sources.
// Plain JavaScript without dependencies, because it runs before anything is installed.

import { spawnSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = join(dirname(fileURLToPath(import.meta.url)), '..');
/** The folders of the product. */
export const PRODUCT = [
  'words',
  'wax',
  'lab',
  'collector',
  'alerts',
  'pipeline',
  'dashboard',
  'simulators',
  'gateway',
  'group',
  'cli',
];
const builtStamp = join(root, 'dist', '.built');

export function run(command, args, options = {}) {
  const { status, error } = spawnSync(command, args, { cwd: root, stdio: 'inherit', ...options });
  if (error) throw error;
  if (status !== 0) {
    console.error(`waxwarden: \`${command} ${args.join(' ')}\` ended with status ${status}.`);
    process.exit(status ?? 1);
  }
}

const bin = (name) => join(root, 'node_modules', '.bin', name);
/** The packages of the lock file that are not installed as it names them; optional ones may be for other machines. */
function missingPackages() {
  const wanted = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')).packages;
  const hidden = join(root, 'node_modules', '.package-lock.json');
  const found = existsSync(hidden) ? JSON.parse(readFileSync(hidden, 'utf8')).packages : {};
  return Object.keys(wanted).filter(
    (path) => path !== '' && !wanted[path].optional && found[path]?.version !== wanted[path].version,
  );
}

/** Installs when something of the lock file is not there. */
export function ensureInstalled() {
  if (missingPackages().length === 0) return;
  console.error('waxwarden: installing the packages of the lock file (once; a minute or two) ...');
  run('npm', ['ci', '--no-audit', '--no-fund', '--loglevel=error'], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });
}

function newestSource() {
  let newest = 0;
  let count = 0;
  const walk = (path) => {
    const stat = statSync(path);
    if (stat.isDirectory()) for (const name of readdirSync(path)) walk(join(path, name));
    else {
      newest = Math.max(newest, stat.mtimeMs);
      count += 1;
    }
  };
  for (const path of [
    ...PRODUCT,
    'scripts/bundle.mjs',
    'package-lock.json',
    'tsconfig.json',
    'tsconfig.build.json',
  ])
    walk(join(root, path));
  return `${newest} ${count}`;
}

/** Server by tsc, its programs bundled, screens by vite; all into dist/. */
export async function build() {
  rmSync(join(root, 'dist'), { recursive: true, force: true });
  mkdirSync(join(root, 'dist'), { recursive: true });
  const stamp = newestSource();
  run(bin('tsc'), ['-p', 'tsconfig.build.json']);
  cpSync(join(root, 'lab', 'files'), join(root, 'dist', 'lab', 'files'), { recursive: true });
  for (const language of readdirSync(join(root, 'words'), { withFileTypes: true }))
    if (language.isDirectory())
      cpSync(join(root, 'words', language.name), join(root, 'dist', 'words', language.name), {
        recursive: true,
      });
  // Only now: the bundler is there once everything is installed.
  const { bundlePrograms } = await import('./bundle.mjs');
  await bundlePrograms(root);
  run(bin('vite'), ['build', '--config', 'dashboard/web/vite.config.ts', '--logLevel', 'warn']);
  writeFileSync(builtStamp, stamp);
}

export async function ensureBuilt() {
  if (existsSync(builtStamp) && readFileSync(builtStamp, 'utf8') === newestSource()) return;
  console.error('waxwarden: building ...');
  await build();
}
