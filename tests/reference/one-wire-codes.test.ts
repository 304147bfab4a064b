// The temperature/data table of the common one-wire sensor's data sheet (from memory; each row checked by arithmetic).
import { describe, expect, it } from 'vitest';
import { ONE_WIRE_RESOLUTION, oneWireCelsius, oneWireCode } from '../../wax/probes/digital-codes.ts';
import { celsius } from '../../wax/units.ts';

describe('one-wire register', () => {
  it.each([
    [125, 0x07d0],
    [85, 0x0550],
    [25.0625, 0x0191],
    [10.125, 0x00a2],
    [0.5, 0x0008],
    [0, 0x0000],
    [-0.5, 0xfff8],
    [-10.125, 0xff5e],
    [-25.0625, 0xfe6f],
    [-55, 0xfc90],
  ])('%d °C is code %d, both ways', (t, code) => {
    const read = oneWireCelsius(code);
    expect(read.ok ? read.value.celsius : read.problem).toBe(t);
    expect(oneWireCode(celsius(t))).toEqual({ ok: true, value: code });
  });

  it('resolves 0.5, 0.25, 0.125 and 0.0625 K in 93.75 to 750 ms', () => {
    expect(
      Object.values(ONE_WIRE_RESOLUTION).map(({ step, conversionMillis }) => [step, conversionMillis]),
    ).toEqual([
      [0.5, 93.75],
      [0.25, 187.5],
      [0.125, 375],
      [0.0625, 750],
    ]);
  });
});
