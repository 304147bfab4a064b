// A data folder on a disk of its own that is filled and emptied under a running lab. Making such a disk needs the
// superuser; elsewhere the tests are left out.

import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { closeSync, mkdtempSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs';
import { request } from 'node:http';
import { get as getSecurely } from 'node:https';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connectAsync } from 'mqtt';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { freePort } from '../free-port.ts';
import { joinAsFirst, type LabProcess, startLabProcess } from './lab-process.ts';
import { until } from './until.ts';

const mayMount = process.getuid?.() === 0;
const BLOCK = Buffer.alloc(64 * 1024, 1);

let disk: string;
const cleanups: (() => unknown)[] = [];
beforeEach(() => {
  disk = mkdtempSync(join(tmpdir(), 'waxwarden-disk-'));
  cleanups.push(() => rmSync(disk, { recursive: true, force: true }));
  if (!mayMount) return;
  execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=32m', 'tmpfs', disk]);
  cleanups.push(() => execFileSync('umount', ['-l', disk]));
});
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

/** To the last byte. */
const fill = (): void => {
  const file = openSync(join(disk, 'ballast'), 'w');
  try {
    for (const block of [BLOCK, BLOCK.subarray(0, 512), BLOCK.subarray(0, 1)])
      for (;;) if (writeSync(file, block) < block.length) break;
  } catch (error) {
    expect((error as NodeJS.ErrnoException).code).toBe('ENOSPC');
  } finally {
    closeSync(file);
  }
};
const empty = (): void => rmSync(join(disk, 'ballast'));

const start = async (broker = 0, port = 0, more: readonly string[] = []): Promise<LabProcess> => {
  const lab = await startLabProcess({
    data: join(disk, 'data'),
    args: [
      '--port',
      String(port),
      '--broker',
      `embedded:${broker}`,
      '--lab',
      'lab/files/starter.yaml',
      ...more,
    ],
  });
  cleanups.push(() => lab.stop('SIGKILL'));
  return lab;
};

interface Health {
  readonly status: string;
  readonly parts: Readonly<
    Record<string, { readonly ok: boolean; readonly problems: readonly { code: string }[] }>
  >;
}

describe.runIf(mayMount)('a disk that fills while a screen is open', () => {
  it('leaves the process running, is shown in health and as an alarm, and all goes on when there is room', async () => {
    const port = await freePort();
    const lab = await start(port);
    const cookie = await joinAsFirst(lab);
    const get = async <T>(path: string): Promise<T> => {
      const answer = await fetch(lab.address + path, { headers: { cookie } });
      expect(answer.status).toBe(200);
      return (await answer.json()) as T;
    };
    const screen = request(`${lab.address}/api/live`, { headers: { cookie } });
    let streamed = '';
    screen.on('response', (response) => response.on('data', (chunk) => (streamed += chunk)));
    screen.end();
    cleanups.push(() => screen.destroy());
    const gateway = await connectAsync(`mqtt://127.0.0.1:${port}`, { clientId: 'gw' });
    cleanups.push(() => gateway.endAsync(true));
    await gateway.publishAsync('wax/my-lab/gw/pot-1/celsius', '61', { qos: 1 });

    fill();
    // The last page of a file may still take it: what is acknowledged is stored in the end, whenever that was.
    const sent = gateway.publishAsync('wax/my-lab/gw/pot-1/celsius', '62', { qos: 1 });
    await until(async () => (await get<Health>('/api/health')).status === 'degraded');
    const { parts } = await get<Health>('/api/health');
    const codes = Object.values(parts).flatMap(({ problems }) => problems.map(({ code }) => code));
    expect(codes.some((code) => code === 'journal-disk-full' || code === 'database-full')).toBe(true);
    const isOpen = async (): Promise<boolean> =>
      (
        await get<readonly { readonly rule: string; readonly active: boolean; readonly message: string }[]>(
          '/api/alarms',
        )
      ).some(({ rule, message, active }) => rule === 'disk-failing' && active && /full/.test(message));
    await until(isOpen);
    await until(() => /event: alarm\ndata: [^\n]*disk-failing/.test(streamed));
    // A screen that is open checks every second whether it may stay.
    const beats = streamed.split('event: beat').length;
    await until(() => streamed.split('event: beat').length > beats + 2);
    expect(lab.process.exitCode).toBeNull();

    empty();
    await sent;
    await until(async () => (await get<Health>('/api/health')).status === 'ok');
    await until(async () => !(await isOpen()));
    await until(async () =>
      (await get<readonly { readonly celsius: number }[]>('/api/probes')).some(
        ({ celsius }) => celsius === 62,
      ),
    );
    expect(await lab.stop()).toBe(0);
  });

  it('refuses what a person does with its reason, and takes it when there is room', async () => {
    const lab = await start();
    const cookie = await joinAsFirst(lab);
    fill();
    const note = () =>
      fetch(`${lab.address}/api/tokens`, {
        method: 'POST',
        headers: { cookie, origin: lab.address, 'content-type': 'application/json' },
        body: JSON.stringify({ name: 'Grapher', role: 'viewer' }),
      });
    await until(async () => (await note()).status === 503);
    expect(await (await note()).json()).toMatchObject({ code: 'database-full' });
    empty();
    expect((await note()).status).toBe(200);
    expect(lab.process.exitCode).toBeNull();
  });
});

describe.runIf(mayMount)('a start on a full disk', () => {
  /** What is answered until there is room. */
  const waiting = async (port: number, accept: string) => {
    const headers = { accept, 'accept-language': 'de' };
    const answer = await until(() =>
      fetch(`http://127.0.0.1:${port}/api/health`, { headers }).catch(() => null),
    );
    return { status: answer.status, text: await answer.text() };
  };

  it.each(['of a new lab', 'of a lab that is set up'])(
    '%s waits, says so on every screen, and goes on by itself',
    async (which) => {
      if (which === 'of a lab that is set up') {
        const lab = await start();
        await joinAsFirst(lab);
        await lab.stop();
      }
      fill();
      const port = await freePort();
      const started = start(0, port);
      expect(await waiting(port, 'application/json')).toMatchObject({
        status: 503,
        text: expect.stringMatching(/"code":"data-folder-full"/),
      });
      const page = await waiting(port, 'text/html');
      expect(page.text).toContain('Nichts wird gemessen');
      expect(page.text).not.toContain(disk);
      empty();
      const lab = await started;
      expect(lab.printed().split('\n')[0]).toMatch(/^waxwarden: The disk of the data folder .* is full/);
      expect(await lab.get('/api/health')).toMatchObject({ status: 'ok' });
      expect(await lab.stop()).toBe(0);
    },
  );

  /** Over HTTPS, trusting the lab's authority alone. */
  const secureStatus = (port: number): Promise<number | undefined> =>
    new Promise((answered, failed) => {
      const ca = readFileSync(join(disk, 'data', 'https', 'authority.pem'));
      getSecurely({ host: '127.0.0.1', port, ca, path: '/api/health' }, (response) => {
        response.resume();
        answered(response.statusCode);
      }).on('error', failed);
    });

  it('is shown over HTTPS with the certificate that is there, and over plain HTTP before there is any', async () => {
    const [port, plainPort] = [await freePort(), await freePort()];
    const secure = ['--https', '--http-port', String(plainPort)];
    fill();
    const first = start(0, port, secure);
    expect(await waiting(plainPort, 'text/html')).toMatchObject({ status: 503 });
    empty();
    expect(await (await first).stop()).toBe(0);

    fill();
    const second = start(0, port, secure);
    expect(await until(() => secureStatus(port).catch(() => null))).toBe(503);
    expect(await waiting(plainPort, 'application/json')).toMatchObject({ status: 503 });
    empty();
    await second;
    expect(await secureStatus(port)).toBe(200);
  });

  it('ends by a signal while it waits', async () => {
    fill();
    const port = await freePort();
    const args = ['dist/cli/main.js', '--data', join(disk, 'data'), '--port', String(port)];
    const child = spawn(process.execPath, args, { stdio: 'ignore' });
    cleanups.push(() => child.kill('SIGKILL'));
    await waiting(port, 'text/html');
    const ended = once(child, 'exit');
    child.kill('SIGTERM');
    expect(await ended).toEqual([0, null]);
  });
});
