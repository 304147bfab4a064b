// The health check of the image, run as it is in the Dockerfile, beside a lab on each protocol.

import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, it } from 'vitest';
import { freePort } from '../free-port.ts';
import { startLabProcess, temporaryFolder } from './lab-process.ts';

const [, line = ''] =
  /^HEALTHCHECK [^\n]*\\\n\s*CMD (\[.*\])$/m.exec(readFileSync(resolve('Dockerfile'), 'utf8')) ?? [];
const [program, ...args] = JSON.parse(line) as readonly [string, ...string[]];

const statusOf = async (port: number): Promise<number> => {
  const env = { ...process.env, WAXWARDEN_PORT: String(port) };
  const [status] = await once(
    spawn(program === 'node' ? process.execPath : program, args, { env, stdio: 'ignore' }),
    'exit',
  );
  return status as number;
};

it.each([
  ['HTTP', []],
  ['HTTPS', ['--https', '--http-port', '0']],
])(
  'the health check of the image passes over %s while the lab answers, and fails once it has ended',
  async (_, more) => {
    const folder = await temporaryFolder();
    const port = await freePort();
    const lab = await startLabProcess({
      data: folder.path,
      args: ['--port', String(port), '--broker', 'embedded:0', ...more],
    });
    expect(await statusOf(port)).toBe(0);
    expect(await lab.stop()).toBe(0);
    expect(await statusOf(port)).toBe(1);
    await folder.remove();
  },
);
