// The directives for a reverse proxy as they are in the guide, obeyed by nginx with a certificate of its own on a port
// other than 443: what is set there is enough for signing in, for changes and for the live stream.

import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync, writeFileSync } from 'node:fs';
import type { IncomingMessage } from 'node:http';
import { Agent, request } from 'node:https';
import { join, resolve } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { freePort } from '../free-port.ts';
import { selfMadeCertificate } from '../self-made-certificate.ts';
import { type LabProcess, startLabProcess, temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

const guide = readFileSync(resolve('docs/operations.md'), 'utf8');
const [, block = ''] = /```nginx\n(.*?)```/s.exec(guide) ?? [];
const [, proxyLine = ''] = /npm start -- (--behind-proxy .*)/.exec(guide) ?? [];
const [, hostName = ''] = /--host-names (\S+)/.exec(proxyLine) ?? [];

let folder: { path: string; remove: () => Promise<void> };
let lab: LabProcess;
let proxyPort: number;
const cleanups: (() => unknown)[] = [];

const startNginx = async (port: number): Promise<ChildProcess> => {
  const { key, certificate } = await selfMadeCertificate();
  writeFileSync(join(folder.path, 'key.pem'), key);
  writeFileSync(join(folder.path, 'chain.pem'), certificate);
  const temporary = ['client_body', 'proxy', 'fastcgi', 'uwsgi', 'scgi']
    .map((kind) => `${kind}_temp_path ${kind};`)
    .join(' ');
  writeFileSync(
    join(folder.path, 'nginx.conf'),
    `daemon off; master_process off; pid nginx.pid; error_log stderr;
events {}
http { access_log off; ${temporary}
server { listen 127.0.0.1:${proxyPort} ssl; ssl_certificate chain.pem; ssl_certificate_key key.pem;
${block.replace('127.0.0.1:8460', `127.0.0.1:${port}`)} } }
`,
  );
  const args = ['-p', `${folder.path}/`, '-c', 'nginx.conf', '-e', 'stderr'];
  const { status, stderr } = spawnSync('nginx', [...args, '-t', '-q'], { encoding: 'utf8' });
  expect([status, stderr]).toEqual([0, '']);
  return spawn('nginx', args, { stdio: 'ignore' });
};

beforeEach(async () => {
  folder = await temporaryFolder();
  cleanups.push(folder.remove);
  const port = await freePort();
  lab = await startLabProcess({
    data: join(folder.path, 'data'),
    args: ['--port', String(port), '--broker', 'embedded:0', ...proxyLine.split(' ')],
  });
  cleanups.push(() => lab.stop());
  proxyPort = await freePort();
  const nginx = await startNginx(port);
  cleanups.push(async () => {
    const ended = once(nginx, 'exit');
    nginx.kill();
    await ended;
  });
  await until(async () => (await ask('/api/health').catch(() => null))?.statusCode === 200);
});
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

const ask = (
  path: string,
  headers: Readonly<Record<string, string>> = {},
  body?: object,
): Promise<IncomingMessage> =>
  new Promise((answered, failed) => {
    const sent = request({
      host: '127.0.0.1',
      port: proxyPort,
      path,
      method: body === undefined ? 'GET' : 'POST',
      agent: new Agent({ rejectUnauthorized: false }),
      headers: { host: `${hostName}:${proxyPort}`, 'content-type': 'application/json', ...headers },
    });
    sent.on('response', answered).on('error', failed);
    sent.end(body === undefined ? undefined : JSON.stringify(body));
  });

describe('a reverse proxy as the guide sets it', () => {
  it('lets people sign in with a cookie for HTTPS alone, change things and follow the live stream', async () => {
    const code = await until(() => /with the code (\S+)/.exec(lab.printed())?.[1]);
    const origin = `https://${hostName}:${proxyPort}`;
    const joined = await ask(
      '/api/join',
      { origin },
      { code, name: 'Ilse', password: 'seven warm sticks of wax' },
    );
    const [cookie = ''] = joined.headers['set-cookie'] ?? [];
    expect([joined.statusCode, cookie]).toEqual([200, expect.stringMatching(/^__Host-.*; Secure/)]);
    const live = await ask('/api/live', { cookie: cookie.split(';')[0] ?? '' });
    let streamed = '';
    live.on('data', (chunk) => (streamed += chunk));
    await until(() => streamed.split('event: beat').length > 2);
    live.destroy();
    const foreign = await ask(
      '/api/session',
      { origin: 'https://evil.example' },
      { name: 'Ilse', password: 'x' },
    );
    expect(foreign.statusCode).toBe(403);
  });

  it('passes on no host, address or protocol that a visitor claims', async () => {
    const claims = {
      'x-forwarded-host': hostName,
      'x-forwarded-proto': 'http',
      'x-forwarded-for': '10.1.2.3',
    };
    expect((await ask('/api/health', { ...claims, host: 'evil.example' })).statusCode).toBe(421);
    expect((await ask('/api/health', { ...claims, 'x-forwarded-host': 'evil.example' })).statusCode).toBe(
      200,
    );
  });
});
