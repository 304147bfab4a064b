import { createServer, type Socket } from 'node:net';
import { once } from 'node:events';
import { describe, expect, it } from 'vitest';
import { until } from '../tests/integration/until.ts';
import { lineValue, linesSource } from './lines.ts';

describe('a line', () => {
  it.each([
    ['61.5', '^(?<value>[-+.0-9]+)$', { probe: 'pot-1', unit: 'Cel', value: 61.5 }],
    ['T2=+061.50C', '^(?<probe>T\\d)=(?<value>[-+.0-9]+)C$', { probe: 'T2', unit: 'Cel', value: 61.5 }],
    ['ERR', '^(?<value>[-+.0-9]+)$', null],
    ['--', '^(?<value>[-+.0-9]+)$', null],
    ['', '^(?<value>.*)$', null],
    ['0x10', '^(?<value>.*)$', null],
    [' 61.5 ', '^(?<value>.*)$', { probe: 'pot-1', unit: 'Cel', value: 61.5 }],
  ])('%j by %s', (line, pattern, expected) => {
    expect(lineValue(line, { pattern, probe: 'pot-1', unit: 'Cel' })).toEqual(expected);
  });
});

/** A device on a port of its own, the source that reads it, and its first connection. */
async function connected(pattern: string, now: () => number) {
  const server = createServer();
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  const connection = once(server, 'connection') as Promise<[Socket]>;
  const source = linesSource({ host: '127.0.0.1', port, pattern, unit: 'Cel' }, now);
  const [socket] = await connection;
  return { server, source, socket };
}

it('a device that prints lines over TCP gives the newest value of each probe since the last sweep', async () => {
  let clock = 0;
  const { server, source, socket } = await connected(
    '^(?<probe>\\w+) (?<value>[-.0-9]+)$',
    () => (clock += 1),
  );
  socket.write('a 60\nb 40\r\nnoise\na 61');
  socket.write('.5\n');
  await until(() => clock === 3);
  expect((await source.sweep()).samples).toEqual([
    { probe: 'a', unit: 'Cel', value: 61.5, at: 3 },
    { probe: 'b', unit: 'Cel', value: 40, at: 2 },
  ]);
  expect(await source.sweep()).toEqual({ samples: [], faults: [] });
  await source.close();
  server.close();
});

it('a device that never ends a line is disconnected and reported', async () => {
  const { server, source, socket } = await connected('^(?<value>[-.0-9]+)$', () => 0);
  const ended = once(socket, 'close');
  // What the other end no longer reads is refused; that it went is what is waited for.
  socket.on('error', () => undefined);
  socket.write('7'.repeat(70_000));
  await ended;
  const { faults } = await source.sweep();
  expect(faults).toMatchObject([{ code: 'no-answer', detail: 'no line end within 65536 bytes' }]);
  await source.close();
  server.close();
});
