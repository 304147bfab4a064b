import { execFile } from 'node:child_process';
import { copyFile, mkdir, mkdtemp, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { promisify } from 'node:util';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
let tree: string;

const plant = async (path: string, text: string) => {
  await mkdir(dirname(join(tree, path)), { recursive: true });
  await writeFile(join(tree, path), text);
};

/** Names of the rules that the planted tree breaks. */
async function brokenRules(): Promise<readonly string[]> {
  const depcruise = join(root, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs');
  const args = [
    depcruise,
    '--config',
    '.dependency-cruiser.cjs',
    '--output-type',
    'json',
    'wax',
    'lab',
    'alerts',
    'simulators',
    'gateway',
    'group',
    'collector',
  ];
  const { stdout } = await promisify(execFile)('node', args, { cwd: tree }).catch((error) => error);
  const report = JSON.parse(stdout) as { summary: { violations: { rule: { name: string } }[] } };
  return report.summary.violations.map((violation) => violation.rule.name);
}

describe('the import rules', () => {
  beforeEach(async () => {
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
  });
  afterEach(() => rm(tree, { recursive: true }));

  it('let imports that run downwards pass', async () => {
    expect(await brokenRules()).toEqual([]);
  });

  it.each([
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
  ])('refuse %s', async (path, text, rule) => {
    await plant(path, `${text}\n`);
    expect(await brokenRules()).toContain(rule);
  });

  it('refuse a circle', async () => {
    await plant(
      'wax/place.ts',
      "import type { Heat } from './heat.ts';\nexport type Place = string | Heat;\n",
    );
    expect(await brokenRules()).toContain('no-circles');
  });
});
