// A port that nobody listens on, for a program that must be told one.

import { once } from 'node:events';
import { type AddressInfo, createServer } from 'node:net';

export const freePort = async (): Promise<number> => {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  server.close();
  await once(server, 'close');
  return port;
};
