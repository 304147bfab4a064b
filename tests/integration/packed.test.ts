// The package that `npm pack` makes: it has no sources, only what was built, and runs with the packages that it names.

import { execFile, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdir, readFile, symlink } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { afterEach, describe, expect, it } from 'vitest';
import { temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

const run = promisify(execFile);

const cleanups: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

/** Packed and unpacked, with the packages beside it that it depends on and no others. */
const unpacked = async (): Promise<{ readonly folder: string; readonly files: readonly string[] }> => {
  const { path, remove } = await temporaryFolder();
  cleanups.push(remove);
  const { stdout } = await run('npm', ['pack', '--json', '--ignore-scripts', '--pack-destination', path], {
    maxBuffer: 64 * 1024 * 1024,
  });
  const [packed] = JSON.parse(stdout);
  await run('tar', ['-xzf', join(path, packed.filename), '-C', path]);
  const folder = join(path, 'package');
  const { dependencies } = JSON.parse(await readFile(join(folder, 'package.json'), 'utf8'));
  for (const name of Object.keys(dependencies)) {
    const link = join(folder, 'node_modules', name);
    await mkdir(dirname(link), { recursive: true });
    await symlink(resolve('node_modules', name), link);
  }
  return { folder, files: packed.files.map((file: { path: string }) => file.path) };
};

describe('the package that npm makes', () => {
  it('starts, serves the screens and ends, without sources and without the packages that only build', async () => {
    const { folder, files } = await unpacked();
    expect(files.filter((file) => file.endsWith('.ts') || /^(tests|node_modules)\//.test(file))).toEqual([]);
    const data = await temporaryFolder();
    cleanups.push(data.remove);
    const program = spawn(
      process.execPath,
      [join(folder, 'scripts/run.mjs'), '--data', data.path, '--port', '0', '--broker', 'embedded:0'],
      { cwd: data.path, stdio: ['ignore', 'pipe', 'pipe'] },
    );
    cleanups.push(async () => {
      if (program.exitCode === null && program.kill('SIGKILL')) await once(program, 'exit');
    });
    let printed = '';
    for (const stream of [program.stdout, program.stderr])
      stream.on('data', (chunk) => {
        printed += chunk;
      });
    const address = await until(() => {
      if (program.exitCode !== null) throw new Error(`ended with ${program.exitCode}: ${printed}`);
      return /Open (https?:\/\/[^\s/]+)/.exec(printed)?.[1];
    });
    expect(await (await fetch(`${address}/api/health`)).json()).toMatchObject({ status: expect.any(String) });
    const page = await (await fetch(`${address}/`)).text();
    expect(page).toContain('<script type="module"');
    program.kill('SIGTERM');
    const [status] = await once(program, 'exit');
    expect(status).toBe(0);
    await expect(
      run(process.execPath, [join(folder, 'scripts/run.mjs'), 'faultbench']),
    ).rejects.toMatchObject({ code: 2, stderr: expect.stringContaining('clone') });
  });
});
