// A simulated tree of the kernel's files for converters: what each becomes.

import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { type ConverterSettings, convertersSource } from './converters.ts';
import { codeValue } from './raw-code.ts';

const root = mkdtempSync(join(tmpdir(), 'waxwarden-iio-'));
afterEach(() => rmSync(root, { recursive: true, force: true }));

const device = (number: number, files: Readonly<Record<string, string>>): void => {
  const folder = join(root, `iio:device${number}`);
  mkdirSync(folder, { recursive: true });
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), `${text}\n`);
};
const sweep = (...converters: readonly ConverterSettings[]) =>
  convertersSource(root, converters, () => 1000).sweep();

const STRAIGHT = {
  name: 'max31855',
  // 79.75 and 25 °C in steps of 250 and 62.5 thousandths.
  in_temp_raw: '319',
  in_temp_scale: '250.000000000',
  in_temp_ambient_raw: '400',
  in_temp_ambient_scale: '62.500000000',
};

describe('a converter of the kernel', () => {
  it('for a thermocouple is read in degrees, as it is or by the function of its type', async () => {
    device(0, STRAIGHT);
    const { samples } = await sweep(
      { device: 'max31855', probe: 'straight' },
      { device: 'max31855', probe: 'by-type', thermocouple: 'K' },
    );
    expect(samples[0]).toEqual({ probe: 'straight', unit: 'Cel', value: 79.75, at: 1000 });
    // 54.75 K × 0.041276 mV/K + 1.0002 mV = 3.2601 mV; 3.2666 mV is 80 °C, and a kelvin is 0.0415 mV.
    expect(samples[1]?.value).toBeCloseTo(80 - (3.2666 - 3.2601) / 0.0415, 1);
  });

  it('for platinum gives ohms by its reference resistor', async () => {
    device(0, { name: 'max31865', in_temp_raw: '8192', in_temp_scale: '31.25' });
    expect((await sweep({ device: 'max31865', probe: 'pot-1', referenceOhms: 430 })).samples).toEqual([
      { probe: 'pot-1', unit: 'Ohm', value: 107.5, at: 1000 },
    ]);
  });

  it('for volts and ohms takes scale and offset of the channel, or those that its channels share', async () => {
    device(0, {
      name: 'adc',
      in_voltage1_raw: '1000',
      in_voltage_scale: '0.0625',
      in_voltage1_offset: '-20',
    });
    device(1, { name: 'ohms', in_resistance0_input: '123.24' });
    const { samples } = await sweep(
      { device: 'adc', probe: 'a', channel: 'in_voltage1' },
      { device: 'ohms', probe: 'b', channel: 'in_resistance0' },
    );
    expect(samples.map(({ unit, value }) => [unit, value])).toEqual([
      ['mV', 61.25],
      ['Ohm', 123.24],
    ]);
  });

  it('is named by its folder or its label where two chips have one name', async () => {
    device(0, STRAIGHT);
    device(1, { ...STRAIGHT, label: 'furnace', in_temp_raw: '400' });
    const { samples, faults } = await sweep(
      { device: 'max31855', probe: 'either' },
      { device: 'iio:device0', probe: 'first' },
      { device: 'furnace', probe: 'second' },
    );
    expect(samples.map(({ probe, value }) => [probe, value])).toEqual([
      ['first', 79.75],
      ['second', 100],
    ]);
    expect(faults).toMatchObject([{ subject: 'either', code: 'unreadable' }]);
  });

  it.each([
    ['that is not there', 'missing', { name: 'another' }],
    ['whose driver reports a fault', 'out-of-range', { name: 'max31855', in_temp_raw: '' }],
    ['that has no such channel', 'out-of-range', { name: 'max31855' }],
  ])('%s is a fault of its probe: %s', async (_, code, files) => {
    device(0, files);
    expect(await sweep({ device: 'max31855', probe: 'pot-1' })).toMatchObject({
      samples: [],
      faults: [{ subject: 'pot-1', code }],
    });
  });

  it('of a board without them is a fault of the folder', async () => {
    rmSync(root, { recursive: true, force: true });
    expect(await sweep({ device: 'max31855', probe: 'pot-1' })).toMatchObject({
      samples: [],
      faults: [{ subject: root, code: 'missing' }],
    });
  });
});

describe('a raw code', () => {
  it.each([
    ['max31855', 0x0190_1900, { unit: 'Cel', value: 25 }],
    ['max31856', 0x064f00, { unit: 'Cel', value: 100.9375 }],
    ['max31865', 0x4000, { unit: 'Ohm', value: 107.5 }],
  ] as const)('of a %s is what it measured', (chip, code, value) => {
    const more = chip === 'max31865' ? { referenceOhms: 430 } : {};
    expect(codeValue({ chip, ...more }, code)).toEqual({ ok: true, value });
  });
});
