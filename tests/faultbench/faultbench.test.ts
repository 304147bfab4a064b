import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { writeCase } from '../../simulators/cases/write-case.ts';
import { run } from './faultbench.ts';
import type { Figure } from './figures.ts';
import { potCase } from './rehearsed-case.ts';

const root = join(import.meta.dirname, '../..');
const HOOKS = join(root, 'scripts', 'typescript-hooks.mjs');
let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-bench-'));
  await writeCase(join(folder, 'stuck'), potCase({ sticksAtMinute: 150, unpluggedAt: 100, minutes: 240 }));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const bench = (...args: readonly string[]) => {
  const call = `process.exit(await (await import('./tests/faultbench/faultbench.ts')).run(${JSON.stringify(args)}))`;
  return spawnSync('node', ['--import', HOOKS, '--input-type=module', '-e', call], {
    cwd: root,
    encoding: 'utf8',
  });
};

describe('the bench on the command line', () => {
  it('prints its figures one JSON object a line and writes page and details', () => {
    const [page, details] = [join(folder, 'page.html'), join(folder, 'details.json')];
    const { stdout, status } = bench('--traces', folder, '--page', page, '--details', details);
    expect(status).toBe(0);
    const lines = stdout
      .trim()
      .split('\n')
      .map((line): Figure => JSON.parse(line));
    for (const name of ['found-share', 'told-share', 'right-cause-share'])
      expect(lines).toContainEqual({ name, value: 1, unit: 'share', n: 1 });
    expect(lines).toContainEqual({ name: 'found-share', fault: 'stuck_on', value: 1, unit: 'share', n: 1 });
    expect(readFileSync(page, 'utf8')).toContain('<th>stuck_on</th>');
    expect(JSON.parse(readFileSync(details, 'utf8'))).toMatchObject([
      { case: 'stuck', faults: [{ fault: 'stuck_on', outcome: 'found' }] },
    ]);
  });

  it('reports the miss when the rules that see the fault are left out', () => {
    const without = 'heading-over,runaway,outside-window,over-ceiling';
    const { stdout } = bench('--traces', folder, '--without', without);
    const lines = stdout
      .trim()
      .split('\n')
      .map((line): Figure => JSON.parse(line));
    expect(lines).toContainEqual({ name: 'found-share', value: 0, unit: 'share', n: 1 });
    expect(lines).toContainEqual({ name: 'never-share', value: 1, unit: 'share', n: 1 });
  });

  it.each([
    [[], /Say which cases/],
    [['--traces', 'a', '--seeds', '1'], /Say which cases/],
    [['--traces', '/nowhere/at/all'], /nowhere.*expected a folder/],
    [['--seeds', '1', '--without', 'left-of'], /there is no rule "left-of"/],
    [['--seeds', '1', '--jobs', '0'], /--jobs: write a whole number/],
    [['--seeds', '1', '--history=-2'], /--history: write hours/],
    [['--seed', '1'], /--seed/],
  ])('refuses %j with a word on what to do', async (args, message) => {
    const printed = vi.spyOn(console, 'error').mockReturnValue();
    expect(await run(args)).toBe(2);
    expect(printed.mock.calls.flat().join('\n')).toMatch(message);
    printed.mockRestore();
  });
});
