import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { heatNetwork, massStore } from './heat-network.ts';
import { waxStore } from './wax-store.ts';

describe('heat between stores', () => {
  it('what is supplied equals what is stored plus what is lost, whatever the drive and the step', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 500, noNaN: true }),
        fc.double({ min: -20, max: 40, noNaN: true }),
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        fc.double({ min: 0.05, max: 20, noNaN: true }),
        (watts, surroundings, loss, seconds) => {
          const heat = heatNetwork(
            [massStore(400), waxStore(120, { solidus: 48, liquidus: 60 })],
            [
              { a: 0, b: 1, wattsPerKelvin: 5 },
              { a: 0, b: 2, wattsPerKelvin: loss },
              { a: 1, b: 2, wattsPerKelvin: 0.5 },
            ],
            [surroundings],
            [20, 20],
          );
          heat.watts[0] = watts;
          for (let i = 0; i < 300; i += 1) heat.step(seconds);
          const { supplied, lost, gained } = heat.balance();
          const scale = Math.abs(supplied) + Math.abs(lost) + Math.abs(gained) + 1;
          expect(Math.abs(supplied - lost - gained)).toBeLessThan(1e-9 * scale);
        },
      ),
    );
  });

  it('one store follows the closed form of first-order cooling: 63.2 %, 86.5 % and 95.0 % after 1, 2 and 3 time constants', () => {
    for (const [constants, fraction] of [
      [1, 0.632121],
      [2, 0.864665],
      [3, 0.950213],
    ] as const) {
      const heat = heatNetwork([massStore(1800)], [{ a: 0, b: 1, wattsPerKelvin: 1 }], [25], [125]);
      for (let i = 0; i < 900 * constants; i += 1) heat.step(2);
      expect((125 - heat.celsius(0)) / 100).toBeCloseTo(fraction, 5);
    }
  });

  it('heat runs from the warmer to the colder store until both are alike', () => {
    const paths = [{ a: 0, b: 1, wattsPerKelvin: 2 }];
    const heat = heatNetwork([massStore(100), massStore(300)], paths, [], [80, 20]);
    for (let i = 0; i < 1000; i += 1) heat.step(1);
    expect(heat.joules(0)).toBeCloseTo(100 * 35, 6);
    expect(heat.joules(1)).toBeCloseTo(300 * 35, 6);
  });
});

describe('heat in wax', () => {
  it('temperature and heat are one another’s inverse through solid, melting and liquid', () => {
    const store = waxStore(60, { solidus: 58, liquidus: 68 });
    fc.assert(
      fc.property(fc.double({ min: -20, max: 200, noNaN: true }), (celsius) => {
        expect(store.celsiusAt(store.joulesAt(celsius))).toBeCloseTo(celsius, 9);
      }),
    );
  });

  it('melting takes the latent heat on top of the sensible heat of the range', () => {
    const store = waxStore(1000, { solidus: 58, liquidus: 68 });
    expect(store.joulesAt(68) - store.joulesAt(58)).toBeCloseTo(170_000 + 10 * 2500, 6);
    expect(store.joulesAt(90) - store.joulesAt(68)).toBeCloseTo(22 * 2200, 6);
  });
});
