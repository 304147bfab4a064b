// Starting and ending as people do it: by npm, with ports that are taken, with a setting that is wrong.

import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { readdirSync, readFileSync } from 'node:fs';
import { createServer, type Server } from 'node:net';
import { join, resolve } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

const root = resolve('.');
const main = resolve('dist/cli/main.js');

let folder: { path: string; remove: () => Promise<void> };
let started: ChildProcess[];
let servers: Server[];
beforeEach(async () => {
  folder = await temporaryFolder();
  [started, servers] = [[], []];
});
afterEach(async () => {
  for (const child of started)
    if (child.exitCode === null && child.signalCode === null && child.pid !== undefined)
      process.kill(-child.pid, 'SIGKILL');
  for (const server of servers) server.close();
  await folder.remove();
});

/** In a group of its own, so that the test's own signals reach only whom they are for. */
const start = (command: string, args: readonly string[], env: Readonly<Record<string, string>> = {}) => {
  const child = spawn(command, [...args], {
    cwd: root,
    detached: true,
    env: { ...process.env, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  started.push(child);
  let printed = '';
  child.stdout?.on('data', (chunk) => (printed += chunk));
  child.stderr?.on('data', (chunk) => (printed += chunk));
  return {
    child,
    printed: () => printed,
    opened: () =>
      until(() => {
        if (child.exitCode !== null) throw new Error(`ended with ${child.exitCode}: ${printed}`);
        return /Open (https?:\/\/[^\s/]+)/.exec(printed)?.[1];
      }),
  };
};
const npm = (...args: readonly string[]) => start('npm', ['--silent', ...args]);
/** Processes whose command line names the folder of this test. */
const left = (mark: string): readonly string[] =>
  readdirSync('/proc')
    .filter((pid) => /^\d+$/.test(pid))
    .filter((pid) => {
      try {
        return readFileSync(`/proc/${pid}/cmdline`, 'utf8').includes(mark);
      } catch {
        return false;
      }
    });
const takenPort = async (): Promise<number> => {
  const server = createServer();
  servers.push(server);
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  return typeof address === 'object' && address !== null ? address.port : 0;
};
const freePorts = ['--port', '0', '--broker', 'embedded:0'] as const;

describe('npm start', () => {
  it('ends with everything that it started when npm alone is sent SIGTERM', async () => {
    const data = join(folder.path, 'data');
    const { child, opened } = npm('start', '--', '--data', data, ...freePorts);
    const address = await opened();
    expect(left(data).length).toBeGreaterThan(0);
    child.kill('SIGTERM');
    await until(() => left(data).length === 0);
    await expect(fetch(address)).rejects.toThrow();
  });

  it('ends with exit status 0 by Ctrl-C, which reaches every process of a terminal, also when it comes twice', async () => {
    const data = join(folder.path, 'data');
    const { child, opened } = start(process.execPath, [main, '--data', data, ...freePorts]);
    await opened();
    const pid = child.pid ?? 0;
    const exited = once(child, 'exit');
    process.kill(-pid, 'SIGINT');
    process.kill(-pid, 'SIGINT');
    expect(await exited).toEqual([0, null]);
    expect(left(data)).toEqual([]);
  });

  it('is refused with status 2 and the setting that changes it when a port is taken', async () => {
    const port = String(await takenPort());
    const ended = (...args: readonly string[]) => {
      const { status, stderr } = spawnSync(
        process.execPath,
        ['--disable-warning=ExperimentalWarning', main, '--data', join(folder.path, 'data'), ...args],
        { encoding: 'utf8' },
      );
      return { status, lines: stderr.trim().split('\n') };
    };
    const web = ended('--port', port, '--broker', 'embedded:0');
    expect(web).toEqual({ status: 2, lines: [expect.stringContaining('--port')] });
    expect(web.lines[0]).toContain(port);
    const broker = ended('--port', '0', '--broker', `embedded:${port}`);
    expect(broker).toEqual({ status: 2, lines: [expect.stringContaining('--broker')] });
    expect(broker.lines[0]).toContain(port);
  });
});

describe('npm run demo', () => {
  it('takes the next free ports and prints them when its own are taken, and ends without a trace', async () => {
    const [port, broker] = [await takenPort(), await takenPort()];
    const data = join(folder.path, 'demo');
    const { child, opened, printed } = npm(
      ...['run', 'demo', '--', '--data', data],
      ...['--port', String(port), '--broker', `embedded:${broker}`],
    );
    const address = await opened();
    expect(Number(new URL(address).port)).toBeGreaterThan(port);
    expect(printed()).toContain(`Port ${port} is taken`);
    expect(printed()).toContain(`Port ${broker} is taken`);
    const mqtt = Number(/mqtt:\/\/127\.0\.0\.1:(\d+)/.exec(printed())?.[1]);
    expect(mqtt).not.toBe(broker);
    child.kill('SIGTERM');
    await until(() => left(data).length === 0);
    await expect(fetch(address)).rejects.toThrow();
  });
});

describe('waxwarden', () => {
  const run = (...args: readonly string[]) =>
    spawnSync(process.execPath, ['--disable-warning=ExperimentalWarning', main, ...args], {
      encoding: 'utf8',
    });

  it.each([
    [['--colour', 'red'], '--colour'],
    [['--port', 'many'], '--port'],
    [['--log-format', 'xml'], '--log-format'],
    [['frobnicate'], 'frobnicate'],
    [['completion', 'tcsh'], 'tcsh'],
    [['start', 'twice'], 'twice'],
  ])('ends with status 2 and one line that names what is wrong in %j', (args, named) => {
    const { status, stderr, stdout } = run(...args);
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    expect(stderr.trim().split('\n')).toHaveLength(1);
    expect(stderr).toContain(named);
  });

  it('starts a gateway as a command, which demands its file', () => {
    const { status, stderr } = run('gateway');
    expect({ status, lines: stderr.trim().split('\n').length }).toEqual({ status: 2, lines: 1 });
  });

  it.each(['version', '--version'])('prints its version for %s', (word) => {
    const { status, stdout } = run(word);
    const { version } = JSON.parse(readFileSync('package.json', 'utf8')) as { version: string };
    expect({ status, stdout }).toEqual({ status: 0, stdout: `${version}\n` });
  });

  it('runs the fault bench as a command, which demands its cases', () => {
    const { status, stderr } = run('faultbench');
    expect(status).not.toBe(0);
    expect(stderr).toContain('--seeds A..B');
  });

  it('completes its commands and settings in bash', () => {
    const { stdout: script } = run('completion', 'bash');
    const completed = (...words: readonly string[]): readonly string[] => {
      const line = `COMP_WORDS=(waxwarden ${words.map((word) => `'${word}'`).join(' ')}); COMP_CWORD=${words.length}; _waxwarden; printf '%s\n' "\${COMPREPLY[@]}"`;
      const { stdout, stderr } = spawnSync('bash', ['-c', `${script}\n${line}`], { encoding: 'utf8' });
      expect(stderr).toBe('');
      return stdout.trim().split('\n');
    };
    expect(completed('de')).toEqual(['demo']);
    expect(completed('start', '--data')).toEqual(['--data']);
    expect(completed('--log', 'w')).toEqual(['warn']);
    expect(completed('completion', '')).toEqual(['bash', 'zsh', 'fish']);
  });
});
