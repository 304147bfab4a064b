// `npm test`: installs what the checks need, runs every one, and ends with one line that sums them up.
// A service that is missing and cannot be installed is named together with the suites that did not run;
// with CI=true that fails. `npm test -- unit browser` runs only the named steps.

import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join, relative } from 'node:path';
import { ensureBuilt, ensureInstalled, root } from './ready.mjs';

const inCi = process.env.CI === 'true';
const wanted = process.argv.slice(2);
const isWanted = (step) => wanted.length === 0 || wanted.includes(step);

/** Programs that suites start, with the Debian package that brings each. */
const SERVICES = {
  mosquitto: 'mosquitto',
  mosquitto_pub: 'mosquitto-clients',
  influxd: 'influxdb',
  'victoria-metrics': 'victoria-metrics',
  chromium: 'chromium',
  'docker-compose': 'docker-compose',
  nginx: 'nginx-light',
  pdftoppm: 'poppler-utils',
  promtool: 'prometheus',
  pg_ctlcluster: 'postgresql',
  'nats-server': 'nats-server',
  python3: 'python3',
};
/** What suites take where it is there: the shell of Chromium spares processor time. */
const SPARING = { 'chromium-headless-shell': 'chromium-headless-shell' };
const SUITES = {
  unit: [],
  reference: [],
  faultbench: [],
  integration: [
    'mosquitto',
    'mosquitto_pub',
    'influxd',
    'victoria-metrics',
    'promtool',
    'docker-compose',
    'nginx',
    'pg_ctlcluster',
    'nats-server',
    'python3',
  ],
  browser: ['mosquitto', 'mosquitto_pub', 'chromium', 'pdftoppm'],
};

const quiet = { cwd: root, stdio: 'ignore' };
const isThere = (program) => spawnSync('sh', ['-c', `command -v ${program}`], quiet).status === 0;
const packagesMissing = (programs) =>
  Object.entries(programs).flatMap(([program, name]) => (isThere(program) ? [] : [name]));

function installServices() {
  const [packages, sparing] = [packagesMissing(SERVICES), packagesMissing(SPARING)];
  if (packages.length + sparing.length === 0) return;
  if (process.getuid?.() !== 0 || !isThere('apt-get')) return;
  console.log(`Installing ${[...packages, ...sparing].join(', ')} ...`);
  const environment = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const apt = (...args) =>
    spawnSync('apt-get', args, { cwd: root, env: environment, stdio: ['ignore', 'ignore', 'inherit'] });
  const install = (names) => {
    if (names.length > 0) apt('install', '-y', '-qq', '--no-install-recommends', ...names);
  };
  apt('update', '-qq');
  install(packages);
  // By itself: a system that has no such package still gets the others.
  install(sparing);
}

const totals = { passed: 0, failed: 0, skipped: 0 };
const failures = [];

async function check(name, command, args) {
  const child = spawn(command, args, { cwd: root, stdio: ['ignore', 'pipe', 'pipe'] });
  let printed = '';
  for (const output of [child.stdout, child.stderr])
    output.on('data', (chunk) => {
      printed += chunk;
    });
  const [status] = await once(child, 'close');
  console.log(`\n== ${name}\n${printed.trimEnd()}`);
  if (status === 0) totals.passed += 1;
  else {
    totals.failed += 1;
    failures.push(name);
  }
}

/** One after another, each printed when it is done. */
async function checkInTurn(checks) {
  for (const [name, command, args] of checks) if (isWanted(name)) await check(name, command, args);
}

/** Whether the suite can run; when a service is missing, prints which, and counts what did not run. */
function canRun([name, needs]) {
  const missing = needs.filter((program) => !isThere(program));
  if (missing.length === 0) return true;
  const packages = [...new Set(missing.map((program) => SERVICES[program]))].join(', ');
  console.log(`\n== ${name}: did not run; missing ${missing.join(', ')} (Debian packages: ${packages}).`);
  if (inCi) {
    totals.failed += 1;
    failures.push(name);
  } else totals.skipped += 1;
  return false;
}

/** In one run, because their files run beside each other: what waits leaves the processor to what works. */
async function runSuites(names) {
  if (names.length === 0) return;
  console.log(`\n== ${names.join(', ')}`);
  const report = join(root, 'dist', 'reports', 'suites.json');
  rmSync(report, { force: true });
  const args = ['run', '--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  const suites = spawn(join(root, 'node_modules', '.bin', 'vitest'), args, {
    cwd: root,
    stdio: 'inherit',
    // The screens are built above, so that the browser suite need not build them again.
    env: { ...process.env, SUITES: names.join(','), BUILT_SCREENS: join(root, 'dist', 'web') },
  });
  const [status] = await once(suites, 'close');
  try {
    const result = JSON.parse(readFileSync(report, 'utf8'));
    totals.passed += result.numPassedTests;
    totals.failed += result.numFailedTests;
    totals.skipped += result.numPendingTests + result.numTodoTests;
    const failed = result.testResults.filter((file) => file.status === 'failed');
    failures.push(...failed.map((file) => relative(root, file.name)));
    const crashed = result.numFailedTests === 0 && status !== 0;
    if (!crashed) return;
    totals.failed += 1;
    if (failed.length === 0) failures.push(names.join(', '));
  } catch {
    totals.failed += 1;
    failures.push(`${names.join(', ')} (no report)`);
  }
}

const npmRun = (script) => ['npm', ['run', '--silent', script]];

ensureInstalled();
installServices();
await ensureBuilt();
mkdirSync(join(root, 'dist', 'reports'), { recursive: true });
const suites = Object.entries(SUITES).filter(([name]) => isWanted(name));
// Beside the suites, whose files leave a part of the processor idle while they wait.
await Promise.all([
  checkInTurn([
    ['sizes', 'node', ['scripts/check-sizes.mjs']],
    ['imports', ...npmRun('check:imports')],
    ['words', ...npmRun('check:words')],
    ['format', ...npmRun('check:format')],
    ['lint', ...npmRun('check:lint')],
    ['unused', ...npmRun('check:unused')],
    ['types', ...npmRun('check:types')],
  ]),
  runSuites(suites.filter(canRun).map(([name]) => name)),
]);

if (failures.length > 0) console.log(`\nFailed: ${failures.join(', ')}`);
const skipped = totals.skipped > 0 ? `, ${totals.skipped} skipped` : '';
console.log(`\n${totals.passed} passed, ${totals.failed} failed${skipped}`);
process.exit(totals.failed > 0 ? 1 : 0);
