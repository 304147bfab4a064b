// Bytes that no route sees: sent over a connection of their own to the server, listening.

import { connect } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { type ServerForTests, serverForTests } from '../../tests/server-for-tests.ts';

let test: ServerForTests;
afterEach(() => test.close());

/** All that is answered until the connection ends. */
const answerTo = async (bytes: string, afterwards = ''): Promise<string> => {
  const port = Number(new URL(await test.server.listen({ host: '127.0.0.1', port: 0 })).port);
  return new Promise((resolve) => {
    let text = '';
    const socket = connect(port, '127.0.0.1', () => socket.write(bytes));
    socket.on('data', (chunk) => {
      if (text === '') socket.write(afterwards);
      text += chunk.toString();
    });
    socket.on('error', () => {});
    socket.on('close', () => resolve(text));
  });
};
const GET = 'GET /api/health HTTP/1.1\r\nconnection: close\r\n';

describe('what cannot be read as a request, or not as it is meant', () => {
  it.each([
    ['is no HTTP', 'waxwarden\r\n\r\n', 400, 'unreadable-request'],
    ['has a blank before a colon', `${GET}host : localhost\r\n\r\n`, 400, 'unreadable-request'],
    ['names no host', `${GET}\r\n`, 400, 'unreadable-request'],
    ['names two hosts', `${GET}host: localhost\r\nHost: localhost\r\n\r\n`, 400, 'unreadable-request'],
    [
      'names a second host behind two thousand lines',
      `${GET}host: localhost\r\n${'a:\r\n'.repeat(2100)}host: localhost\r\n\r\n`,
      400,
      'unreadable-request',
    ],
    [
      'expects what nobody knows, of an address that is none',
      `${GET.replace('health', 'nothing')}host: localhost\r\nexpect: tea\r\n\r\n`,
      404,
      'unknown-address',
    ],
    [
      'has a body that says it is packed',
      'POST /api/session HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\ncontent-type: application/json\r\ncontent-encoding: gzip\r\ncontent-length: 2\r\n\r\n{}',
      415,
      'wrong-media-type',
    ],
    [
      'names another host in its address than in its line',
      'GET http://evil.example/api/health HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\n\r\n',
      400,
      'unreadable-request',
    ],
    [
      'has a header of 100 kB',
      `${GET}host: localhost\r\ncookie: ${'a'.repeat(100_000)}\r\n\r\n`,
      431,
      'header-too-large',
    ],
    [
      'has a body that does not arrive in time',
      'POST /api/session HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/json\r\ncontent-length: 9\r\n\r\n{',
      408,
      'request-too-slow',
    ],
    ['has a header that does not arrive in time', `${GET}host: localhost\r\nx-`, 408, 'request-too-slow'],
  ])('is answered as every other refusal when it %s', async (_, bytes, status, code) => {
    test = await serverForTests({ requestSeconds: 0.5 });
    const [head = '', body = ''] = (await answerTo(bytes)).split('\r\n\r\n');
    expect(head).toMatch(new RegExp(`^HTTP/1\\.1 ${status} `));
    expect(head).toMatch(/^content-type: application\/problem\+json/im);
    expect(head).toMatch(/^cache-control: no-store$/im);
    expect(head).toMatch(/^content-security-policy: default-src 'none'/im);
    expect(JSON.parse(body)).toMatchObject({ status, code });
  });

  it('ends a stream that is open on the connection without a word in its midst', async () => {
    test = await serverForTests({ demo: true });
    const text = await answerTo('GET /api/live HTTP/1.1\r\nhost: localhost\r\n\r\n', 'waxwarden\r\n\r\n');
    expect(text).toMatch(/^HTTP\/1\.1 200 /);
    expect(text).not.toContain('HTTP/1.1 400');
  });
});

describe('a request that can be read', () => {
  it('may name its host in its address too, and with the dot of the root', async () => {
    test = await serverForTests();
    const whole =
      'GET http://localhost./api/health HTTP/1.1\r\nhost: LOCALHOST.\r\nconnection: close\r\n\r\n';
    expect(await answerTo(whole)).toMatch(/^HTTP\/1\.1 200 /);
  });

  it('changes nothing over HTTPS when its page came in the clear', async () => {
    test = await serverForTests({ trustedProxies: ['127.0.0.1'] });
    const changed = async (scheme: string, origin: string) =>
      (
        await test
          .browser()
          .send('POST', '/api/alarms/a/acknowledge', {}, { origin, 'x-forwarded-proto': scheme })
      ).json().code;
    expect(await changed('https', 'http://localhost:8080')).toBe('foreign-origin');
    // The last one: a proxy that adds the encryption and does not say so.
    for (const [scheme, origin] of [
      ['https', 'https://localhost:8080'],
      ['http', 'http://localhost:8080'],
      ['http', 'https://localhost:8080'],
    ] as const)
      expect(await changed(scheme, origin)).toBe('sign-in-needed');
  });
});
