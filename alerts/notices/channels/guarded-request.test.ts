import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { ClosedAddress, postGuarded, isClosedAddress } from './guarded-request.ts';

describe('an address', () => {
  it.each([
    '127.0.0.1',
    '127.8.9.10',
    '0.0.0.0',
    '10.0.0.8',
    '172.16.0.1',
    '172.31.255.255',
    '192.168.1.20',
    '169.254.169.254',
    '100.100.100.200',
    '192.0.0.192',
    '224.0.0.1',
    '255.255.255.255',
    '::',
    '::1',
    'fe80::1',
    'fd00:ec2::254',
    '::ffff:127.0.0.1',
    '::ffff:169.254.169.254',
    '64:ff9b::7f00:1',
    '::127.0.0.1',
    '::ffff:0:169.254.169.254',
    '2001:0:4136:e378:8000:63bf:3fff:fdd2',
    'fec0::1',
    '192.88.99.1',
    '203.0.113.9',
    '100::1',
    '2001:20::1',
    '2001:db8::1',
    '3fff::1',
    '5f00::1',
    'fe80::1%1',
    'no address',
  ])('%s is closed', (address) => {
    expect(isClosedAddress(address)).toBe(true);
  });

  it.each([
    '1.1.1.1',
    '172.32.0.1',
    '192.0.1.1',
    '100.128.0.1',
    '2606:4700::1111',
    '2001:200::1',
    '::ffff:1.1.1.1',
  ])('%s is open', (address) => {
    expect(isClosedAddress(address)).toBe(false);
  });
});

describe('a guarded request', () => {
  let server: Server;
  let port: number;
  let received: string[];
  beforeEach(async () => {
    received = [];
    server = createServer((request, response) => {
      received.push(`${request.method} ${request.headers.host} ${request.url}`);
      request.resume().on('end', () => {
        if (request.url === '/away') response.writeHead(302, { location: '/in' });
        else response.writeHead(503, { 'retry-after': '7' });
        response.end();
      });
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    port = (server.address() as AddressInfo).port;
  });
  afterEach(() => server.close());

  const post = (url: string, allowedHosts: readonly string[] = [], addresses?: readonly string[]) =>
    postGuarded({
      url,
      allowedHosts,
      headers: {},
      body: '{}',
      timeoutMillis: 5000,
      ...(addresses !== undefined && { resolve: async () => addresses }),
    });

  it.each(['127.0.0.1', '[::1]', '0x7f.1', '2130706433', '[::ffff:127.0.0.1]', '0.0.0.0'])(
    'never reaches this machine as %s',
    async (host) => {
      await expect(post(`http://${host}:${port}/in`)).rejects.toBeInstanceOf(ClosedAddress);
      expect(received).toEqual([]);
    },
  );

  it('never reaches this machine by a name that is pointed at it, alone or beside an open address', async () => {
    for (const addresses of [['127.0.0.1'], ['1.1.1.1', '127.0.0.1']])
      await expect(post(`http://evil.example:${port}/in`, [], addresses)).rejects.toBeInstanceOf(
        ClosedAddress,
      );
    expect(received).toEqual([]);
  });

  it('goes to the address that was checked, under the name that was given', async () => {
    const answer = await post(`http://chat.lab.example:${port}/in`, ['chat.lab.example'], ['127.0.0.1']);
    expect(answer).toEqual({ status: 503, retryAfter: '7' });
    expect(received).toEqual([`POST chat.lab.example:${port} /in`]);
  });

  it('is allowed by host with port only on that port', async () => {
    expect((await post(`http://127.0.0.1:${port}/in`, [`127.0.0.1:${port}`])).status).toBe(503);
    await expect(post(`http://127.0.0.1:${port}/in`, ['127.0.0.1:1'])).rejects.toBeInstanceOf(ClosedAddress);
  });

  it('ends at its time although the name server never answers', async () => {
    const silent = { resolve: () => new Promise<never>(() => {}), timeoutMillis: 20 };
    await expect(
      postGuarded({ url: 'http://evil.example/', allowedHosts: [], headers: {}, body: '{}', ...silent }),
    ).rejects.toMatchObject({ name: 'TimeoutError' });
  });

  it('follows no redirect', async () => {
    expect((await post(`http://127.0.0.1:${port}/away`, ['127.0.0.1'])).status).toBe(302);
    expect(received).toHaveLength(1);
  });
});
