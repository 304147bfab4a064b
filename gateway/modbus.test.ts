// A real Modbus TCP server in a process of its own, and the numbers in its registers.

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { createServer } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { freePort } from '../tests/free-port.ts';
import { modbusSource, type RegisterSettings, registerNumber } from './modbus.ts';

const children: ChildProcess[] = [];
afterEach(() => {
  for (const child of children.splice(0)) child.kill('SIGKILL');
});

/** Device 1: holding 0 is 615, 1 is 0xfff6, 2 and 3 are 61.5 as a float, 4 is 32767; input 0 is 1234. */
const SERVER = `
const { ServerTCP } = require('modbus-serial');
const holding = [615, 0xfff6, 0x4276, 0x0000, 32767];
const server = new ServerTCP(
  { getHoldingRegister: (at) => holding[at] ?? 0, getInputRegister: () => 1234 },
  { host: '127.0.0.1', port: Number(process.argv[1]), unitID: 1 },
);
server.on('initialized', () => console.log(server.netServer?.address?.().port ?? process.argv[1]));
`;

async function startServer(port: number): Promise<ChildProcess> {
  const child = spawn(process.execPath, ['-e', SERVER, String(port)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  children.push(child);
  if (child.stdout !== null) await once(child.stdout, 'data');
  return child;
}

const register = (more: Partial<RegisterSettings>): RegisterSettings => ({
  probe: 'pot-1',
  device: 1,
  table: 'holding',
  address: 0,
  type: 'int16',
  unit: 'Cel',
  ...more,
});

describe('the number in registers', () => {
  it.each([
    ['int16', [0xfff6], undefined, -10],
    ['uint16', [0xfff6], undefined, 65526],
    ['int32', [0xffff, 0xfff6], undefined, -10],
    ['int32', [0xfff6, 0xffff], 'low', -10],
    ['uint32', [1, 2], 'high', 65538],
    ['float32', [0x4276, 0], 'high', 61.5],
    ['float32', [0, 0x4276], 'low', 61.5],
    ['float32', [0x7642, 0], 'high', 61.5, 'low'],
    ['float32', [0, 0x7642], 'low', 61.5, 'low'],
    ['int16', [0xf6ff], undefined, -10, 'low'],
  ] as const)('%s %j, %s word first', (type, words, firstWord, expected, firstByte?: 'low') => {
    const settings = register({
      type,
      ...(firstByte !== undefined && { firstByte }),
      ...(firstWord !== undefined && { firstWord }),
    });
    expect(registerNumber(words, settings)).toBe(expected);
  });
});

describe('a Modbus TCP controller', () => {
  it('is read by its register map, lost when it ends, and read again when it is back', async () => {
    const port = await freePort();
    const server = await startServer(port);
    const source = modbusSource(
      {
        host: '127.0.0.1',
        port,
        registers: [
          register({ probe: 'tenths', scale: 0.1 }),
          register({ probe: 'negative', address: 1 }),
          register({ probe: 'float', address: 2, type: 'float32' }),
          register({ probe: 'broken', address: 4, invalid: [32767] }),
          register({ probe: 'input', table: 'input', scale: 0.01 }),
        ],
      },
      () => 5,
    );
    const first = await source.sweep();
    expect(first.samples.map(({ probe, value }) => [probe, value])).toEqual([
      ['tenths', 61.5],
      ['negative', -10],
      ['float', 61.5],
      ['input', 12.34],
    ]);
    expect(first.faults).toMatchObject([{ subject: 'broken', code: 'out-of-range' }]);
    const ended = once(server, 'exit');
    server.kill('SIGKILL');
    await ended;
    const lost = await source.sweep();
    expect(lost.samples).toEqual([]);
    expect(lost.faults.map(({ code }) => code)).toEqual(Array.from({ length: 5 }, () => 'no-answer'));
    await startServer(port);
    expect((await source.sweep()).samples).toHaveLength(4);
    await source.close();
  });
});

/** Device 1 answers 615, device 3 that it has no such register, any other nothing; as the bytes are on the wire. */
async function startLine() {
  const requests: number[] = [];
  let connections = 0;
  const server = createServer((socket) => {
    connections += 1;
    socket.on('data', (frame) => {
      const device = frame[6] ?? 0;
      requests.push(device);
      const transaction = frame.subarray(0, 2);
      if (device === 1) socket.write(Buffer.concat([transaction, Buffer.from('000000050103020267', 'hex')]));
      if (device === 3) socket.write(Buffer.concat([transaction, Buffer.from('00000003038302', 'hex')]));
    });
    socket.on('error', () => {});
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  return { port, requests, connections: () => connections, stop: () => server.close() };
}

describe('devices that share a Modbus line', () => {
  it('are read although one of them is silent, which is queried once a sweep', async () => {
    const line = await startLine();
    const source = modbusSource(
      {
        host: '127.0.0.1',
        port: line.port,
        registers: [
          register({ probe: 'dead-a', device: 2 }),
          register({ probe: 'dead-b', device: 2, address: 1 }),
          register({ probe: 'dead-c', device: 2, address: 2 }),
          register({ probe: 'alive', scale: 0.1 }),
        ],
      },
      () => 5,
    );
    const { samples, faults } = await source.sweep();
    expect(samples).toMatchObject([{ probe: 'alive', value: 61.5 }]);
    expect(faults.map(({ subject, code }) => [subject, code])).toEqual([
      ['dead-a', 'no-answer'],
      ['dead-b', 'no-answer'],
      ['dead-c', 'no-answer'],
    ]);
    expect(line.requests).toEqual([2, 1]);
    await source.close();
    line.stop();
  });

  it('stay connected when one answers that it has no such register, which is logged', async () => {
    const line = await startLine();
    const source = modbusSource(
      {
        host: '127.0.0.1',
        port: line.port,
        registers: [register({ probe: 'wrong', device: 3, address: 99 }), register({ probe: 'alive' })],
      },
      () => 5,
    );
    const { samples, faults } = await source.sweep();
    expect(samples).toMatchObject([{ probe: 'alive', value: 615 }]);
    expect(faults).toMatchObject([
      { subject: 'wrong', code: 'unreadable', detail: expect.stringContaining('Illegal data address') },
    ]);
    expect(line.connections()).toBe(1);
    await source.close();
    line.stop();
  });
});
