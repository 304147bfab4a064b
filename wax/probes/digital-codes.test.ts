import { describe, expect, it } from 'vitest';
import { celsius } from '../units.ts';
import {
  linearWordCelsius,
  linearWordCode,
  ONE_WIRE_RESOLUTION,
  type OneWireBits,
  oneWireCelsius,
  oneWireCode,
} from './digital-codes.ts';

describe('codes of digital sensors', () => {
  it('gives each one-wire code back, at each resolution', () => {
    for (const bits of [9, 10, 11, 12] satisfies OneWireBits[])
      for (let t = -55; t <= 125; t += ONE_WIRE_RESOLUTION[bits].step) {
        const code = oneWireCode(celsius(t), bits);
        const back = code.ok ? oneWireCelsius(code.value, bits) : code;
        expect(back.ok ? back.value.celsius : back.problem).toBe(t);
      }
  });

  it('clears the bits that a coarse resolution leaves undefined', () => {
    const reading = oneWireCelsius(0x0197, 9);
    expect(reading.ok ? reading.value.celsius : null).toBe(25);
  });

  it('marks 85 °C as what the sensor also holds after power-on', () => {
    const [powerOn, beside] = [oneWireCelsius(0x0550), oneWireCelsius(0x0551)];
    expect(powerOn.ok && powerOn.value.maybePowerOn && powerOn.value.celsius === 85).toBe(true);
    expect(beside.ok && !beside.value.maybePowerOn).toBe(true);
  });

  it.each([-1, 65_536, 1.5, Number.NaN])('refuses %d as a code', (code) => {
    const results = [oneWireCelsius(code), linearWordCelsius(code)];
    expect(results.map((result) => (result.ok ? null : result.problem.code))).toEqual([
      'bad-register-code',
      'bad-register-code',
    ]);
  });

  it('refuses the -127 °C of a sensor that does not answer', () => {
    const code = (-127 * 16) & 0xffff;
    expect(oneWireCelsius(code).ok).toBe(false);
    expect(oneWireCode(celsius(-127)).ok).toBe(false);
  });

  it('runs the 16-bit words from -45 to 130 °C and back', () => {
    expect(linearWordCelsius(0)).toEqual({ ok: true, value: -45 });
    expect(linearWordCelsius(0xffff)).toEqual({ ok: true, value: 130 });
    for (let code = 0; code <= 0xffff; code += 257) {
      const t = linearWordCelsius(code);
      expect(t.ok ? linearWordCode(t.value) : t).toEqual({ ok: true, value: code });
    }
    expect(linearWordCode(celsius(131)).ok).toBe(false);
  });
});
