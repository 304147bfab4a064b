// What the guide promises to receivers: each change is checked by the shell commands that are there.

import { spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync, writeFileSync } from 'node:fs';
import { createServer, type IncomingHttpHeaders } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join, resolve } from 'node:path';
import { connectAsync } from 'mqtt';
import { expect, it } from 'vitest';
import { freePort } from '../free-port.ts';
import { joinAsFirst, startLabProcess, temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

const [overHttp = '', overMqtt = ''] = [
  ...readFileSync(resolve('docs/phone.md'), 'utf8').matchAll(/```sh\n(.*?openssl.*?)```/gs),
].map(([, block = '']) => block);

it('a change that was forged does not bear the signature that openssl alone works out, by webhook and over MQTT', async () => {
  const folder = await temporaryFolder();
  const posts: { readonly body: string; readonly headers: IncomingHttpHeaders }[] = [];
  const receiver = createServer((request, response) => {
    let body = '';
    request.on('data', (chunk) => (body += chunk));
    request.on('end', () => {
      posts.push({ body, headers: request.headers });
      response.end();
    });
  }).listen(0, '127.0.0.1');
  await once(receiver, 'listening');
  const broker = await freePort();
  const lab = await startLabProcess({
    data: join(folder.path, 'data'),
    args: ['--port', '0', '--broker', `embedded:${broker}`, '--lab', resolve('lab/files/starter.yaml')],
  });
  const headers = { cookie: await joinAsFirst(lab), origin: lab.address, 'content-type': 'application/json' };
  const ask = async <T>(method: string, path: string, body?: object): Promise<T> => {
    const answer = await fetch(lab.address + path, {
      method,
      headers,
      ...(body && { body: JSON.stringify(body) }),
    });
    expect([path, answer.status]).toEqual([path, 200]);
    return (await answer.json()) as T;
  };
  const signature = (
    block: string,
    file: string,
    text: string,
    variables: Readonly<Record<string, string>>,
  ): string => {
    writeFileSync(join(folder.path, file), text);
    const { stdout } = spawnSync('sh', ['-ec', block], {
      cwd: folder.path,
      env: { ...process.env, ...variables },
      encoding: 'utf8',
    });
    return stdout.trim();
  };
  const { plan } = await ask<{ plan: object }>('GET', '/api/notification-plan');
  const { port } = receiver.address() as AddressInfo;
  const webhooks = [{ id: 'chat', name: 'Chat', url: `http://127.0.0.1:${port}/in`, template: null }];
  await ask('PUT', '/api/notification-plan', { ...plan, webhooks });
  const { secrets, changeSecret } = await ask<{ secrets: { chat: string }; changeSecret: string }>(
    'GET',
    '/api/notification-plan',
  );
  const machine = await connectAsync(`mqtt://127.0.0.1:${broker}`);
  const messages: string[] = [];
  machine.on('message', (_topic, payload) => messages.push(payload.toString()));
  await machine.subscribeAsync('wax/+/change/+', { qos: 1 });
  const now = Date.now() / 1000;
  const hot = [now - 1, now].map((t) => ({ n: 'pot', u: 'Cel', v: 300, t }));
  await machine.publishAsync('wax/my-lab/bench/senml', JSON.stringify(hot), { qos: 1 });

  const { body, headers: sent } = await until(() => posts.find((post) => post.body.includes('"fire-risk"')));
  const time = String(sent['waxwarden-time']);
  const byHttp = (text: string, at = time): string =>
    signature(overHttp, 'body.json', text, { TIME: at, SECRET: secrets.chat });
  expect(byHttp(body)).toBe(sent['waxwarden-signature']);
  expect(byHttp(body.replace('"raised"', '"cleared"'))).not.toBe(sent['waxwarden-signature']);
  expect(byHttp(body, String(Number(time) + 1))).not.toBe(sent['waxwarden-signature']);

  const message = await until(() => messages.find((text) => text.includes('"fire-risk"')));
  const claimed: unknown = JSON.parse(message).signature;
  const byMqtt = (text: string): string =>
    signature(overMqtt, 'message.json', text, { SECRET: changeSecret });
  expect(byMqtt(message)).toBe(claimed);
  expect(byMqtt(message.replace('"raised"', '"cleared"'))).not.toBe(claimed);
  // One shape on both ways, but for what signs it and whom it went to.
  const { signed_at: _at, signature: _signature, key: _key, ...overBroker } = JSON.parse(message);
  const { key: _other, ...overWebhook } = JSON.parse(body);
  expect(overBroker).toEqual(overWebhook);

  await machine.endAsync(true);
  expect(await lab.stop()).toBe(0);
  receiver.close();
  await folder.remove();
});
