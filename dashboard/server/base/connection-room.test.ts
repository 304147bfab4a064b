import { once } from 'node:events';
import { type AddressInfo, connect, createServer, type Socket } from 'node:net';
import { afterEach, expect, it } from 'vitest';
import { limitConnections } from './connection-room.ts';

const cleanups: (() => unknown)[] = [];
afterEach(() => {
  for (const cleanup of cleanups.splice(0).reverse()) cleanup();
});

/** Greets whoever has room; returns how to connect from an address of this machine and whether that was greeted. */
const greeter = async (proxies: readonly string[], host = '127.0.0.1') => {
  const server = createServer();
  limitConnections(server, proxies, { inAll: 5, ofOneAddress: 3 });
  server.on('connection', (socket) => socket.destroyed || socket.on('error', () => {}).write('hello'));
  server.listen(0, host);
  await once(server, 'listening');
  cleanups.push(() => server.close());
  const { port } = server.address() as AddressInfo;
  return async (localAddress: string): Promise<{ readonly socket: Socket; readonly isGreeted: boolean }> => {
    const socket = connect({ host: '127.0.0.1', port, localAddress });
    socket.on('error', () => {});
    cleanups.push(() => socket.destroy());
    const isGreeted = await new Promise<boolean>((resolve) => {
      socket.once('data', () => resolve(true));
      socket.once('close', () => resolve(false));
    });
    return { socket, isGreeted };
  };
};
const greeted = async (
  from: (address: string) => Promise<{ readonly isGreeted: boolean }>,
  address: string,
  times: number,
) => {
  let count = 0;
  for (let time = 0; time < times; time += 1) if ((await from(address)).isGreeted) count += 1;
  return count;
};

it.each(['127.0.0.1', '::'])('connections of one address leave room for others, on %s', async (host) => {
  const from = await greeter([], host);
  expect(await greeted(from, '127.0.0.1', 5)).toBe(3);
  expect(await greeted(from, '127.0.0.2', 5)).toBe(2);
});

it('a connection that ends makes room for another of its address', async () => {
  const from = await greeter([]);
  const first = await from('127.0.0.1');
  expect(await greeted(from, '127.0.0.1', 3)).toBe(2);
  first.socket.destroy();
  await expect.poll(async () => (await from('127.0.0.1')).isGreeted).toBe(true);
});

it.each(['127.0.0.1', '127.0.0.0/8'])(
  'a proxy that is trusted as %s is held to the limit of all alone',
  async (proxy) => {
    const from = await greeter([proxy]);
    expect(await greeted(from, '127.0.0.1', 7)).toBe(5);
  },
);
