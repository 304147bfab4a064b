import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { celsius } from '../units.ts';
import { checkPlatinum, PLATINUM, type PlatinumKind, platinumCelsius, platinumOhms } from './platinum.ts';

const code = (result: ReturnType<typeof platinumCelsius> | ReturnType<typeof checkPlatinum>) =>
  result.ok ? null : result.problem.code;

describe('platinum resistance thermometer', () => {
  it('gives back the temperature that made the resistance, over the whole range', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -200, max: 850, noNaN: true }),
        fc.constantFrom<PlatinumKind>('pt100', 'pt1000'),
        (t, kind) => {
          const ohms = platinumOhms(kind, celsius(t));
          const back = ohms.ok ? platinumCelsius(kind, ohms.value) : ohms;
          return back.ok && Math.abs(back.value - t) < 1e-7;
        },
      ),
    );
  });

  it('takes the resistance of the wires off', () => {
    const ohms = platinumOhms('pt100', celsius(70));
    const back = platinumCelsius('pt100', (ohms.ok ? ohms.value : 0) + 0.8, 0.8);
    expect(back.ok ? back.value : null).toBeCloseTo(70, 8);
  });

  it.each([Number.NaN, Infinity, 0, -5, 18, 400])('makes no temperature of %d Ω', (ohms) => {
    expect(code(platinumCelsius('pt100', ohms))).toBe('outside-probe-range');
  });

  it.each([Number.NaN, -200.1, 850.1])('makes no resistance of %d °C', (t) => {
    expect(platinumOhms('pt100', t as never).ok).toBe(false);
  });

  it('accepts the coefficients of the standard and refuses all others by name', () => {
    expect(checkPlatinum({ ...PLATINUM }).ok).toBe(true);
    expect(code(checkPlatinum({ a: 3.90802e-3, b: -5.802e-7, c: -4.2735e-12 }))).toBe(
      'superseded-platinum-curve',
    );
    expect(code(checkPlatinum({ a: 3.9739e-3, b: -5.87e-7, c: -4.4e-12 }))).toBe('unknown-platinum-curve');
    expect(code(checkPlatinum({ a: 3.9083e-3, b: -5.775e-7, c: Number.NaN }))).toBe('unknown-platinum-curve');
  });
});
