// A real Modbus TCP server in a process of its own, and the numbers in its registers.

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
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
  ] as const)('%s %j, %s word first', (type, words, firstWord, expected) => {
    const settings = register({ type, ...(firstWord !== undefined && { firstWord }) });
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
