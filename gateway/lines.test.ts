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

it('a device that prints lines over TCP gives the newest value of each probe since the last sweep', async () => {
  const server = createServer();
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  const connection = once(server, 'connection') as Promise<[Socket]>;
  let clock = 0;
  const source = linesSource(
    { host: '127.0.0.1', port, pattern: '^(?<probe>\\w+) (?<value>[-.0-9]+)$', unit: 'Cel' },
    () => (clock += 1),
  );
  const [socket] = await connection;
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
