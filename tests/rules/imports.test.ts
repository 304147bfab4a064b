import { execFile } from 'node:child_process';
import { copyFile, mkdir, mkdtemp, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
const FOLDERS = ['wax', 'lab', 'alerts', 'simulators', 'gateway', 'group', 'collector'];
let tree: string;

const plant = async (path: string, text: string) => {
  await mkdir(dirname(join(tree, path)), { recursive: true });
  await writeFile(join(tree, path), text);
};

/** The rules that the planted tree breaks, each with the file that breaks it. */
async function brokenRules(): Promise<readonly string[]> {
  const depcruise = join(root, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs');
  const args = [depcruise, '--config', '.dependency-cruiser.cjs', '--output-type', 'json', ...FOLDERS];
  const { stdout } = await promisify(execFile)('node', args, { cwd: tree }).catch((error) => error);
  const report = JSON.parse(stdout) as {
    summary: { violations: { from: string; rule: { name: string } }[] };
  };
  return report.summary.violations.map(({ from, rule }) => `${rule.name}: ${from}`);
}

/** Files that each break one rule, planted together so that the tree is read once. */
const BREAKING = [
  ['wax/up.ts', "export type { Heat } from '../lab/shelf.ts';", 'wax-imports-downwards'],
  ['wax/file.ts', "export { readFileSync } from 'node:fs';", 'wax-does-no-io'],
  ['alerts/watch/clock.ts', "export { hrtime } from 'node:process';", 'watch-does-no-io'],
  ['alerts/watch/send.ts', "export type { Heat } from '../notices/outbox.ts';", 'watch-never-sees-notices'],
  [
    'simulators/cheat.ts',
    "export type { Heat } from '../collector/decode.ts';",
    'simulators-imports-downwards',
  ],
  ['group/cheat.ts', "export type { Heat } from '../collector/decode.ts';\n", 'group-imports-downwards'],
  ['gateway/cheat.ts', "export type { Heat } from '../lab/shelf.ts';\n", 'gateway-imports-downwards'],
  [
    'collector/bell.ts',
    "export type { Heat } from '../alerts/watch/rule.ts';",
    'collector-imports-downwards',
  ],
  ['lab/alone.ts', 'export const alone = 1;', 'no-orphans'],
  ['collector/rows.ts', "export { default } from 'better-sqlite3';", 'one-door-to-sqlite'],
  ['lab/points.ts', "export { Point } from '@influxdata/influxdb-client';", 'one-door-to-influx'],
  ['lab/tables.ts', "export { Client } from 'pg';", 'one-door-to-postgres'],
  ['lab/speak.ts', "export { connect } from 'mqtt';", 'one-door-to-mqtt'],
  ['collector/page.ts', "export { fastify } from 'fastify';", 'one-door-to-web-server'],
  [
    'wax/round.ts',
    "import type { Trip } from './trip.ts';\nexport type Round = string | Trip;",
    'no-circles',
  ],
] as const;

describe('the import rules', () => {
  let brokenBefore: readonly string[];
  let broken: readonly string[];

  beforeAll(async () => {
    tree = await mkdtemp(join(tmpdir(), 'waxwarden-imports-'));
    await copyFile(join(root, '.dependency-cruiser.cjs'), join(tree, '.dependency-cruiser.cjs'));
    await copyFile(join(root, 'tsconfig.json'), join(tree, 'tsconfig.json'));
    await symlink(join(root, 'node_modules'), join(tree, 'node_modules'));
    await plant('wax/heat.ts', "import type { Place } from './place.ts';\nexport type Heat = Place;\n");
    await plant('wax/place.ts', 'export type Place = string;\n');
    await plant('lab/shelf.ts', "export type { Heat } from '../wax/heat.ts';\n");
    await plant('alerts/watch/rule.ts', "export type { Heat } from '../../lab/shelf.ts';\n");
    await plant('alerts/notices/outbox.ts', "export type { Heat } from '../watch/rule.ts';\n");
    await plant('simulators/pot.ts', "export type { Heat } from '../wax/heat.ts';\n");
    await plant('gateway/source.ts', "export type { Heat } from '../wax/heat.ts';\n");
    await plant('group/source.ts', "export type { Heat } from '../wax/heat.ts';\n");
    await plant('collector/decode.ts', "export type { Heat } from '../lab/shelf.ts';\n");
    brokenBefore = await brokenRules();
    await plant('wax/trip.ts', "import type { Round } from './round.ts';\nexport type Trip = Round;\n");
    for (const [path, text] of BREAKING) await plant(path, `${text}\n`);
    broken = await brokenRules();
  });
  afterAll(() => rm(tree, { recursive: true }));

  it('let imports that run downwards pass', () => {
    expect(brokenBefore).toEqual([]);
  });

  it.each(BREAKING)('refuse %s', (path, _text, rule) => {
    expect(broken).toContain(`${rule}: ${path}`);
  });
});
