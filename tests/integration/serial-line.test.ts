// Serial lines through a pseudo-terminal, with a device behind it that shares no code with the gateway.

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { linesSource } from '../../gateway/lines.ts';
import { modbusSource, type RegisterSettings } from '../../gateway/modbus.ts';
import { until } from './until.ts';

const cleanups: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

/** Returns the name of its terminal. */
async function startDevice(...args: readonly string[]): Promise<{ serial: string; child: ChildProcess }> {
  const child = spawn('python3', [join(import.meta.dirname, 'serial-device.py'), ...args], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  cleanups.push(() => child.kill('SIGKILL'));
  const [name] = child.stdout === null ? [''] : ((await once(child.stdout, 'data')) as [Buffer]);
  return { serial: String(name).trim(), child };
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

describe('a controller on a serial line (Modbus RTU)', () => {
  it('is read by its register map; what it refuses and what is broken are faults of their own', async () => {
    const { serial } = await startDevice();
    const source = modbusSource(
      {
        serial,
        baud: 9600,
        parity: 'none',
        registers: [
          register({ probe: 'tenths', scale: 0.1 }),
          register({ probe: 'negative', address: 1 }),
          register({ probe: 'float', address: 2, type: 'float32' }),
          register({ probe: 'broken', address: 4, invalid: [32767] }),
          register({ probe: 'input', table: 'input', scale: 0.01 }),
          register({ probe: 'absent', address: 90 }),
        ],
      },
      () => 5,
    );
    cleanups.push(source.close);
    const { samples, faults } = await source.sweep();
    expect(samples.map(({ probe, value }) => [probe, value])).toEqual([
      ['tenths', 61.5],
      ['negative', -10],
      ['float', 61.5],
      ['input', 12.34],
    ]);
    expect(faults.map(({ subject, code }) => [subject, code])).toEqual([
      ['broken', 'out-of-range'],
      ['absent', 'unreadable'],
    ]);
    expect((await source.sweep()).samples).toHaveLength(4);
  });

  it('that is unplugged is a fault of each of its probes', async () => {
    const { serial, child } = await startDevice();
    const source = modbusSource({ serial, baud: 9600, registers: [register({})] }, () => 5);
    cleanups.push(source.close);
    expect((await source.sweep()).samples).toHaveLength(1);
    const ended = once(child, 'exit');
    child.kill('SIGKILL');
    await ended;
    expect(await source.sweep()).toMatchObject({
      samples: [],
      faults: [{ subject: 'pot-1', code: 'no-answer' }],
    });
  });
});

it('a device that prints lines on a serial line gives the values of the lines that match', async () => {
  const { serial } = await startDevice('lines');
  const source = linesSource(
    { serial, baud: 9600, pattern: '^(?<probe>T\\d)=(?<value>[-+.0-9]+)C$', unit: 'Cel' },
    () => 5,
  );
  cleanups.push(source.close);
  const sample = await until(async () => (await source.sweep()).samples[0]);
  expect(sample).toEqual({ probe: 'T1', unit: 'Cel', value: 61.5, at: 5 });
});
