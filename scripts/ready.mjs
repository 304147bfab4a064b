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
import { createHash } from 'node:crypto';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const SOURCES = ['wax', 'lab', 'collector', 'alerts', 'dashboard', 'simulators', 'cli'];
const installedStamp = join(root, 'node_modules', '.waxwarden-installed');
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
const hashOf = (file) => createHash('sha256').update(readFileSync(file)).digest('hex');

/** Installs when the lock file is not the one that was installed last. */
export function ensureInstalled() {
  const wanted = hashOf(join(root, 'package-lock.json'));
  if (existsSync(installedStamp) && readFileSync(installedStamp, 'utf8') === wanted) return;
  console.error('waxwarden: installing the packages of the lock file (once; a minute or two) ...');
  run('npm', ['ci', '--no-audit', '--no-fund', '--loglevel=error'], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  writeFileSync(installedStamp, wanted);
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
  for (const path of [...SOURCES, 'package-lock.json', 'tsconfig.json', 'tsconfig.build.json'])
    walk(join(root, path));
  return `${newest} ${count}`;
}

/** Server by tsc, screens by vite; both into dist/. */
export function build() {
  rmSync(join(root, 'dist'), { recursive: true, force: true });
  mkdirSync(join(root, 'dist'), { recursive: true });
  const stamp = newestSource();
  run(bin('tsc'), ['-p', 'tsconfig.build.json']);
  cpSync(join(root, 'lab', 'files'), join(root, 'dist', 'lab', 'files'), { recursive: true });
  run(bin('vite'), ['build', '--config', 'dashboard/web/vite.config.ts', '--logLevel', 'warn']);
  writeFileSync(builtStamp, stamp);
}

export function ensureBuilt() {
  if (existsSync(builtStamp) && readFileSync(builtStamp, 'utf8') === newestSource()) return;
  console.error('waxwarden: building ...');
  build();
}
