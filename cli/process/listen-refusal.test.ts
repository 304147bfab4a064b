import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { problemOnConsole } from '../console/console-words.ts';
import { ListenRefusal, awaitListening } from './listen-refusal.ts';

const taken = createServer();
beforeAll(() => new Promise<void>((done) => taken.listen(0, '127.0.0.1', done)));
afterAll(() => new Promise((done) => taken.close(done)));

const open = (host: string, port: number): Promise<void> =>
  awaitListening(
    { setting: '--port', host, port },
    new Promise((done, refuse) => {
      const server = createServer();
      server.once('error', refuse);
      server.listen(port, host, () => server.close(() => done()));
    }),
  );
const refusal = async (opening: Promise<void>): Promise<ListenRefusal> => {
  const error: unknown = await opening.catch((cause: unknown) => cause);
  if (error instanceof ListenRefusal) return error;
  throw error;
};

describe('opening a port', () => {
  it('succeeds on a free one', async () => {
    await expect(open('127.0.0.1', 0)).resolves.toBeUndefined();
  });

  it('is refused by the name of the setting where another program listens', async () => {
    const { port } = taken.address() as AddressInfo;
    const { problem } = await refusal(open('127.0.0.1', port));
    expect(problem.code).toBe('port-taken');
    expect(problemOnConsole(problem)).toContain(`--port: 127.0.0.1:${port} is taken by another program.`);
  });

  it('is refused on an address that is not of this machine', async () => {
    const { problem } = await refusal(open('192.0.2.1', 0));
    expect(problem).toMatchObject({ code: 'address-not-usable', values: { reason: 'EADDRNOTAVAIL' } });
  });
});
