import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { lockFolder } from './folder-lock.ts';

const root = resolve(import.meta.dirname, '../..');
const HOLD = `
  import { lockFolder } from ${JSON.stringify(join(import.meta.dirname, 'folder-lock.ts'))};
  lockFolder(process.argv[1]);
  console.log('locked');
  setInterval(() => {}, 1000);`;
const nodeArguments = (folder: string): readonly string[] => [
  '--import',
  join(root, 'scripts/typescript-hooks.mjs'),
  '--input-type=module',
  '--eval',
  HOLD,
  folder,
];

/** Each in a process-id space of its own is number 1 there, as in a container; only the superuser may make one. */
const mayUnshare = (): boolean => {
  try {
    execFileSync('unshare', ['--pid', '--fork', 'true'], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
};

let folder: string;
let child: ChildProcess | null;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-lock-'));
  child = null;
});
afterEach(async () => {
  if (child !== null && child.exitCode === null && child.signalCode === null) {
    child.kill('SIGKILL');
    await once(child, 'exit');
  }
  rmSync(folder, { recursive: true, force: true });
});

const holdIn = async (command: string, args: readonly string[]): Promise<ChildProcess> => {
  const holder = spawn(command, [...args], { cwd: root, stdio: ['ignore', 'pipe', 'inherit'] });
  child = holder;
  const [line] = await once(holder.stdout, 'data');
  expect(String(line)).toBe('locked\n');
  return holder;
};

describe('the lock of a folder', () => {
  it('refuses a second holder until the first gives it free', () => {
    const unlock = lockFolder(folder);
    expect(() => lockFolder(folder)).toThrow(expect.objectContaining({ code: 'data-folder-in-use' }));
    unlock();
    lockFolder(folder)();
  });

  it('of a process that is killed is free at once', async () => {
    const holder = await holdIn(process.execPath, nodeArguments(folder));
    expect(() => lockFolder(folder)).toThrow(expect.objectContaining({ code: 'data-folder-in-use' }));
    holder.kill('SIGKILL');
    await once(holder, 'exit');
    lockFolder(folder)();
  });

  it.runIf(mayUnshare())('holds between two processes that are both number 1, as in containers', async () => {
    const inOwnSpace = ['--pid', '--fork', '--kill-child', process.execPath, ...nodeArguments(folder)];
    await holdIn('unshare', inOwnSpace);
    const second = spawn('unshare', inOwnSpace, { cwd: root, stdio: ['ignore', 'pipe', 'pipe'] });
    let printed = '';
    second.stderr.on('data', (chunk) => (printed += chunk));
    const [status] = await once(second, 'exit');
    expect(status).not.toBe(0);
    expect(printed).toContain('data-folder-in-use');
  });

  it('refuses a folder that cannot be one, with its name', () => {
    writeFileSync(join(folder, 'file'), '');
    expect(() => lockFolder(join(folder, 'file', 'data'))).toThrow(
      expect.objectContaining({ code: 'data-folder-not-usable' }),
    );
  });
});
