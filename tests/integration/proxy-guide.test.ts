// The directives for a reverse proxy as they stand in the guide, obeyed by a small proxy with a certificate of its own on a port
// other than 443: what is set there is enough for signing in, for changes and for the live stream.

import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { type IncomingMessage, request as requestPlainly } from 'node:http';
import { Agent, createServer, request } from 'node:https';
import type { AddressInfo } from 'node:net';
import { resolve } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { freePort } from '../free-port.ts';
import { selfMadeCertificate } from '../self-made-certificate.ts';
import { type LabProcess, startLabProcess, temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

const guide = readFileSync(resolve('docs/operations.md'), 'utf8');
const [, block = ''] = /```nginx\n(.*?)```/s.exec(guide) ?? [];
const SET_HEADERS = [...block.matchAll(/proxy_set_header (\S+) (\S+);/g)].map(
  ([, name = '', value = '']) => [name, value] as const,
);
const [, proxyLine = ''] = /npm start -- (--behind-proxy .*)/.exec(guide) ?? [];
const [, hostName = ''] = /--host-names (\S+)/.exec(proxyLine) ?? [];

/** The variables of the proxy's language that the guide uses. */
const variablesOf = ({ headers, socket }: IncomingMessage): Readonly<Record<string, string>> => ({
  $http_host: headers.host ?? '',
  $remote_addr: socket.remoteAddress ?? '',
  $scheme: 'https',
});

let folder: { path: string; remove: () => Promise<void> };
let lab: LabProcess;
let proxyPort: number;
const cleanups: (() => unknown)[] = [];
beforeEach(async () => {
  folder = await temporaryFolder();
  cleanups.push(folder.remove);
  const port = await freePort();
  lab = await startLabProcess({
    data: folder.path,
    args: ['--port', String(port), '--broker', 'embedded:0', ...proxyLine.split(' ')],
  });
  cleanups.push(() => lab.stop());
  const { key, certificate } = await selfMadeCertificate();
  const proxy = createServer({ key, cert: certificate }, (incoming, outgoing) => {
    const variables = variablesOf(incoming);
    const set = Object.fromEntries(
      SET_HEADERS.map(([name, value]) => [name.toLowerCase(), variables[value] ?? value]),
    );
    const onward = requestPlainly(
      { port, method: incoming.method, path: incoming.url, headers: { ...incoming.headers, ...set } },
      (answer) => {
        outgoing.writeHead(answer.statusCode ?? 502, answer.headers);
        answer.pipe(outgoing);
      },
    );
    onward.on('error', () => outgoing.destroy());
    incoming.pipe(onward);
  }).listen(0, '127.0.0.1');
  await once(proxy, 'listening');
  cleanups.push(() => {
    proxy.closeAllConnections();
    proxy.close();
  });
  proxyPort = (proxy.address() as AddressInfo).port;
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
      ...{ host: '127.0.0.1', port: proxyPort, path, method: body === undefined ? 'GET' : 'POST' },
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
