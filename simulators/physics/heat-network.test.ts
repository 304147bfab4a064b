import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { booksAt, type HeatBooks, heatStep, massStore } from './heat-network.ts';
import { waxStore } from './wax-store.ts';

const run = (
  stores: Parameters<typeof heatStep>[0],
  paths: Parameters<typeof heatStep>[1],
  drive: Parameters<typeof heatStep>[2],
  books: HeatBooks,
  steps: number,
  seconds: number,
): HeatBooks => {
  let now = books;
  for (let i = 0; i < steps; i += 1) now = heatStep(stores, paths, drive, now, seconds);
  return now;
};

describe('heat between stores', () => {
  it('what is supplied equals what is stored plus what is lost, whatever the drive and the step', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 500, noNaN: true }),
        fc.double({ min: -20, max: 40, noNaN: true }),
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        fc.double({ min: 0.05, max: 20, noNaN: true }),
        (watts, surroundings, loss, seconds) => {
          const stores = [massStore(400), waxStore(120, { solidus: 48, liquidus: 60 })];
          const paths = [
            { a: 0, b: 1, wattsPerKelvin: 5 },
            { a: 0, b: 2, wattsPerKelvin: loss },
            { a: 1, b: 2, wattsPerKelvin: 0.5 },
          ];
          const start = booksAt(stores, [20, 20]);
          const end = run(
            stores,
            paths,
            { watts: [watts, 0], surroundings: [surroundings] },
            start,
            300,
            seconds,
          );
          const total = (books: HeatBooks) => books.joules.reduce((sum, joules) => sum + joules, 0);
          const scale = Math.abs(end.supplied) + Math.abs(end.lost) + total(end);
          expect(Math.abs(end.supplied - end.lost - (total(end) - total(start)))).toBeLessThan(1e-9 * scale);
        },
      ),
    );
  });

  it('one store follows the closed form of first-order cooling: 63.2 %, 86.5 % and 95.0 % after 1, 2 and 3 time constants', () => {
    const store = massStore(1800);
    const paths = [{ a: 0, b: 1, wattsPerKelvin: 1 }];
    for (const [constants, fraction] of [
      [1, 0.632121],
      [2, 0.864665],
      [3, 0.950213],
    ] as const) {
      const end = run(
        [store],
        paths,
        { watts: [0], surroundings: [25] },
        booksAt([store], [125]),
        900 * constants,
        2,
      );
      expect((125 - store.celsiusAt(end.joules[0] ?? 0)) / 100).toBeCloseTo(fraction, 5);
    }
  });

  it('heat runs from the warmer to the colder store until both are alike', () => {
    const stores = [massStore(100), massStore(300)];
    const paths = [{ a: 0, b: 1, wattsPerKelvin: 2 }];
    const end = run(stores, paths, { watts: [0, 0], surroundings: [] }, booksAt(stores, [80, 20]), 1000, 1);
    expect(end.joules[0]).toBeCloseTo(100 * 35, 6);
    expect(end.joules[1]).toBeCloseTo(300 * 35, 6);
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
