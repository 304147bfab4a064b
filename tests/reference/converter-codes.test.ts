// Tables of the data sheets of three converters (from memory; each row checked by its arithmetic).
import { describe, expect, it } from 'vitest';
import {
  max31855,
  max31855Linearised,
  max31856,
  max31865,
  ratioOhms,
} from '../../wax/probes/converter-codes.ts';
import { platinumCelsius } from '../../wax/probes/platinum.ts';
import { celsius } from '../../wax/units.ts';

/** The word of 32 bits from its fields as the sheet prints them. */
const word = (hot: string, cold: string, faults = '000'): number =>
  Number.parseInt(`${hot}0${faults === '000' ? 0 : 1}${cold}0${faults}`.replaceAll(' ', ''), 2);
const COLD_25 = '0001 1001 0000';

describe('a MAX31855', () => {
  it.each([
    [1600, '0110 0100 0000 00'],
    [1000, '0011 1110 1000 00'],
    [100.75, '0000 0110 0100 11'],
    [25, '0000 0001 1001 00'],
    [0, '0000 0000 0000 00'],
    [-0.25, '1111 1111 1111 11'],
    [-1, '1111 1111 1111 00'],
    [-250, '1111 0000 0110 00'],
  ])('reads %d °C at the hot junction', (t, bits) => {
    expect(max31855(word(bits, COLD_25))).toEqual({ ok: true, value: { celsius: t, coldJunction: 25 } });
  });

  it.each([
    [127, '0111 1111 0000'],
    [100.5625, '0110 0100 1001'],
    [25, COLD_25],
    [0, '0000 0000 0000'],
    [-0.0625, '1111 1111 1111'],
    [-1, '1111 1111 0000'],
    [-20, '1110 1100 0000'],
    [-55, '1100 1001 0000'],
  ])('reads %d °C at the cold junction', (t, bits) => {
    expect(max31855(word('0000 0001 1001 00', bits))).toMatchObject({ value: { coldJunction: t } });
  });

  it.each([
    ['001', 'open'],
    ['010', 'short_to_ground'],
    ['100', 'short_to_supply'],
  ])('refuses a word with the fault bits %s: %s', (faults, fault) => {
    expect(max31855(word('0000 0001 1001 00', COLD_25, faults))).toMatchObject({
      problem: { code: 'converter-fault', values: { fault } },
    });
  });

  it('refuses a word with the common fault bit alone, and what is no word', () => {
    expect(max31855(0x0001_0000)).toMatchObject({ problem: { code: 'converter-fault' } });
    for (const code of [-1, 2 ** 32, 0.5, Number.NaN])
      expect(max31855(code)).toMatchObject({ problem: { code: 'bad-register-code' } });
  });

  it('at 80 °C against 25 °C shows 79.91 °C, which the reference function of type K makes good', () => {
    // (3.2666 - 1.0002) mV over 0.041276 mV/K is 54.91 K above the cold junction.
    const shown = { celsius: celsius(25 + (3.2666 - 1.0002) / 0.041276), coldJunction: celsius(25) };
    expect(shown.celsius).toBeCloseTo(79.91, 2);
    const made = max31855Linearised('K', shown);
    expect(made.ok ? made.value : made.problem).toBeCloseTo(80, 2);
  });
});

describe('a MAX31856', () => {
  it.each([
    [1600, 0x640000],
    [1000, 0x3e8000],
    [100.9375, 0x064f00],
    [25, 0x019000],
    [0.0625, 0x000100],
    [0.0078125, 0x000020],
    [0, 0x00001f],
    [-0.0625, 0xffff00],
    [-1, 0xfff000],
    [-250, 0xf06000],
  ])('reads %d °C', (t, code) => {
    expect(max31856(code)).toEqual({ ok: true, value: t });
  });
});

describe('a MAX31865 with its reference of 400 Ω', () => {
  it.each([
    [-200, 18.52, 1517],
    [0, 100, 8192],
    [100, 138.51, 11_346],
    [850, 390.48, 31_988],
  ])('at %d °C, %d Ω, has the code %d', (t, ohms, code) => {
    const measured = max31865(code << 1, 400);
    expect(measured.ok && Math.abs(measured.value - ohms)).toBeLessThan(400 / 32_768);
    const back = platinumCelsius('pt100', measured.ok ? measured.value : 0);
    // One step is 0.031 K at 0 °C, and 0.05 K where platinum is less sensitive.
    expect(back.ok && Math.abs(back.value - t)).toBeLessThan(0.05);
  });

  it('refuses a register whose lowest bit is set, and codes that only a broken or shorted wire gives', () => {
    expect(max31865((8192 << 1) | 1, 400)).toMatchObject({ problem: { code: 'converter-fault' } });
    expect(ratioOhms(0, 400)).toMatchObject({ problem: { values: { fault: 'short' } } });
    expect(ratioOhms(32_767, 400)).toMatchObject({ problem: { values: { fault: 'open' } } });
    expect(ratioOhms(8192, 0)).toMatchObject({ problem: { code: 'not-a-resistance' } });
  });
});
