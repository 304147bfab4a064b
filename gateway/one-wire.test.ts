// A simulated tree of kernel files: what each content becomes.

import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { oneWireSource, oneWireValue } from './one-wire.ts';

const folder = mkdtempSync(join(tmpdir(), 'waxwarden-w1-'));
afterEach(() => rmSync(folder, { recursive: true, force: true }));
const CHIP = '28-0316a2794d9c';
const write = (chip: string, text: string): void => {
  mkdirSync(join(folder, chip), { recursive: true });
  writeFileSync(join(folder, chip, 'w1_slave'), text);
};
const file = (hex: string, verdict = 'YES') => `${hex} : crc=5c ${verdict}\n${hex} t=61500\n`;
const sweep = (probes?: Record<string, string>) =>
  oneWireSource({ folder, ...(probes !== undefined && { probes }) }, () => 1000).sweep();

it('a kernel file that is cut off in the middle is unreadable', () => {
  expect(oneWireValue(file('d8 03 4b 46 7f ff 0c 10 5c').slice(0, 20))).toMatchObject({ code: 'unreadable' });
});

describe('the file of a one-wire chip', () => {
  // Registers in sixteenths: 0x03d8 is 61.5, 0xff5e is -10.125.
  it.each([
    ['d8 03 4b 46 7f ff 0c 10 5c', 61.5],
    ['5e ff 4b 46 7f ff 02 10 5c', -10.125],
    ['50 05 4b 46 7f ff 10 10 5c', 85],
  ])('%s is a temperature', async (hex, value) => {
    write(CHIP, file(hex));
    expect(await sweep()).toEqual({ samples: [{ probe: CHIP, unit: 'Cel', value, at: 1000 }], faults: [] });
  });

  it.each([
    // The kernel prints whole thousandths; the register has sixteenths.
    ['28', 'ff ff 4b 46 7f ff 01 10 5c', -62, -0.0625],
    // Nine bits: the lowest three mean nothing.
    ['28', 'df 03 4b 46 1f ff 0c 10 5c', 61_937, 61.5],
    // Half degrees with a count: the kernel's thousandths hold.
    ['10', '7b 00 4b 46 ff ff 08 10 5c', 61_250, 61.25],
    ['10', 'ff ff 4b 46 ff ff 0c 10 5c', -500, -0.5],
    // A thermocouple by the family of address pins.
    ['3b', '04 3f 4b 46 f0 ff ff ff 5c', 1_008_250, 1008.25],
    ['22', 'd8 03 4b 46 7f ff 08 10 5c', 61_500, 61.5],
    ['42', 'd8 03 4b 46 7f ff 08 10 5c', 61_500, 61.5],
  ])('of family %s, %s, is %d thousandths and taken as %d °C', async (family, hex, thousandths, value) => {
    write(`${family}-0316a2794d9c`, `${hex} : crc=5c YES\n${hex} t=${thousandths}\n`);
    expect((await sweep()).samples).toMatchObject([{ value }]);
  });

  it('of a chip that never changes its seventh byte gives 85 °C beside a neighbour, and not out of nowhere', async () => {
    const source = oneWireSource({ folder }, () => 1000);
    const answers: unknown[] = [];
    for (const hex of ['d8 03', '50 05', '4f 05', '50 05']) {
      write(CHIP, file(`${hex} 4b 46 7f ff 0c 10 5c`));
      const { samples, faults } = await source.sweep();
      answers.push(samples[0]?.value ?? faults[0]?.code);
    }
    expect(answers).toEqual([61.5, 'power-on', 84.9375, 85]);
  });

  it.each([
    ['a checksum that is wrong', file('d8 03 4b 46 7f ff 0c 10 5c', 'NO'), 'crc'],
    ['a bus that is held low', file('00 00 00 00 00 00 00 00 00'), 'crc'],
    ['85 °C before the first conversion', file('50 05 4b 46 7f ff 0c 10 1c'), 'power-on'],
    ['a register beyond what the chip measures', file('ff 7f 4b 46 7f ff 0c 10 1c'), 'out-of-range'],
    ['an empty file', '', 'unreadable'],
    ['a thermocouple that is broken', file('01 3f 4b 46 f0 ff ff ff 5c'), 'out-of-range', '3b-0316a2794d9c'],
  ])('with %s is a fault', async (_, text, code, chip = CHIP) => {
    write(chip, text);
    expect(await sweep()).toMatchObject({ samples: [], faults: [{ subject: chip, code }] });
  });

  it('gives its probe the name of the settings', async () => {
    write(CHIP, file('d8 03 4b 46 7f ff 0c 10 5c'));
    expect((await sweep({ [CHIP]: 'pot-1' })).samples).toMatchObject([{ probe: 'pot-1' }]);
  });

  it('is missed when it is gone, and other devices of the bus are passed over', async () => {
    write(CHIP, file('d8 03 4b 46 7f ff 0c 10 5c'));
    write('w1_bus_master1', 'no thermometer');
    const source = oneWireSource({ folder }, () => 1000);
    expect((await source.sweep()).samples).toHaveLength(1);
    rmSync(join(folder, CHIP), { recursive: true });
    expect(await source.sweep()).toMatchObject({ samples: [], faults: [{ subject: CHIP, code: 'missing' }] });
  });

  it('is missed when the settings name it and it never was there', async () => {
    mkdirSync(folder, { recursive: true });
    expect(await sweep({ [CHIP]: 'pot-1' })).toMatchObject({
      faults: [{ subject: 'pot-1', code: 'missing' }],
    });
  });

  it('of a kernel without the bus is a fault of the folder', async () => {
    rmSync(folder, { recursive: true, force: true });
    expect(await sweep()).toMatchObject({ faults: [{ subject: folder, code: 'missing' }] });
  });
});
