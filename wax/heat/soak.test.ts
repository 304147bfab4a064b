import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { conductionSeries, type Geometry } from './conduction-series.ts';
import {
  soakCelsius,
  soakCore,
  soakStart,
  soakStep,
  soakTheta,
  softToTheCoreAfter,
  softToTheCoreAt,
} from './soak.ts';
import { type SoakShape, soakBody, soakMaterialOf, type Surroundings, underLamp } from './soak-body.ts';
import { cellVolumes, soakGrid, soakSweep } from './soak-scheme.ts';
import { type Celsius, celsius, type EpochMillis, epochMillis, millimetres } from '../units.ts';
import { waxClass } from '../wax-class.ts';

const WAX = { conductivity: 0.25, density: 900, heatCapacity: 2500 };
const body = (shape: SoakShape, surroundings: Surroundings | number = 'water-bath') => {
  const made = soakBody(shape, WAX, surroundings);
  if (!made.ok) throw new Error(made.problem.code);
  return made.value;
};
const STICK: SoakShape = { kind: 'stick', diameter: millimetres(10), length: millimetres(60) };
const SHEET: SoakShape = { kind: 'sheet', thickness: millimetres(2) };
const CAKE: SoakShape = {
  kind: 'cake',
  length: millimetres(60),
  width: millimetres(40),
  height: millimetres(15),
};
const shape = fc.constantFrom(STICK, SHEET, CAKE);
const GEOMETRIES: readonly Geometry[] = ['slab', 'cylinder', 'sphere'];

describe('conduction series', () => {
  it('runs from untouched to through, never up', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...GEOMETRIES),
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        fc.constantFrom(0, 0.5, 1, 'mean' as const),
        (geometry, biot, place) => {
          const theta = conductionSeries(geometry, biot, place);
          const values = [0, 1e-5, 1e-3, 0.01, 0.05, 0.2, 1, 10, 1e5].map(theta);
          return (
            values[0] === 1 &&
            (values.at(-1) ?? 1) < 1e-6 &&
            values.every((value, i) => i === 0 || value <= (values[i - 1] ?? 0) + 1e-5)
          );
        },
      ),
      { numRuns: 40 },
    );
  });

  it('leaves the core untouched and opens the surface like a half-space at early times', () => {
    // Semi-infinite solid (Incropera 5.7): θ(surface) ≈ 1 - 2 Bi √(Fo/π) for Bi √Fo « 1.
    for (const geometry of GEOMETRIES) {
      expect(conductionSeries(geometry, 1, 0)(1e-4)).toBeCloseTo(1, 5);
      expect(1 - conductionSeries(geometry, 1, 1)(1e-5)).toBeCloseTo(2 * Math.sqrt(1e-5 / Math.PI), 4);
    }
  });

  it('gives the mean of the body what passes the surface', () => {
    // dθmean/dFo = -(n + 1) Bi θsurface with n = 0, 1, 2 for slab, cylinder, sphere.
    for (const [power, geometry] of GEOMETRIES.entries()) {
      const [mean, surface] = [conductionSeries(geometry, 3, 'mean'), conductionSeries(geometry, 3, 1)];
      const slope = (mean(0.05 + 1e-4) - mean(0.05 - 1e-4)) / 2e-4;
      expect(slope).toBeCloseTo(-(power + 1) * 3 * surface(0.05), 3);
    }
  });
});

describe('conservative scheme', () => {
  it('agrees with the series in constant surroundings, for stick, sheet and cake', () => {
    for (const [which, seconds] of [
      [STICK, 120],
      [SHEET, 12],
      [CAKE, 500],
    ] as const) {
      const piece = body(which);
      let state = soakStart(piece, epochMillis(0), celsius(20), celsius(50), which === CAKE ? 16 : 40);
      for (let t = 1; t <= 200; t++)
        state = soakStep(state, piece, epochMillis((t * seconds * 1000) / 200), celsius(50));
      const core = soakCelsius(piece, celsius(20), celsius(50), seconds);
      const mean = soakCelsius(piece, celsius(20), celsius(50), seconds, 'mean');
      expect(core.ok && mean.ok).toBe(true);
      if (!core.ok || !mean.ok) return;
      expect(Math.abs(soakCore(state) - core.value)).toBeLessThan(0.2);
      const meanOfCells = cellVolumes(soakGrid(piece, state.cells)).reduce(
        (sum, volume, i) => sum + volume * (state.temperatures[i] ?? 0),
        0,
      );
      expect(Math.abs(meanOfCells - mean.value)).toBeLessThan(0.2);
    }
  });

  it('takes into the body exactly the heat that passes its surface, whatever the step and the surroundings', () => {
    fc.assert(
      fc.property(
        shape,
        fc.double({ min: 0.1, max: 500, noNaN: true }),
        fc.double({ min: -20, max: 90, noNaN: true }),
        fc.array(fc.double({ min: 0, max: 60, noNaN: true }), { minLength: 216, maxLength: 216 }),
        (which, seconds, outside, field) => {
          const grid = soakGrid(body(which), 6);
          const volumes = cellVolumes(grid);
          const before = field.slice(0, volumes.length);
          const mean = (temperatures: readonly number[]) =>
            volumes.reduce((sum, volume, i) => sum + volume * (temperatures[i] ?? 0), 0);
          const { temperatures, heatIn } = soakSweep(grid, before, outside, seconds);
          const total = volumes.reduce((sum, volume) => sum + volume, 0);
          return Math.abs(total - 1) < 1e-12 && Math.abs(mean(temperatures) - mean(before) - heatIn) < 1e-9;
        },
      ),
      { numRuns: 60 },
    );
  });

  it('never leaves the range of what the body and its surroundings had', () => {
    fc.assert(
      fc.property(shape, fc.double({ min: 1, max: 1e5, noNaN: true }), (which, seconds) => {
        const piece = body(which);
        const state = soakStep(
          soakStart(piece, epochMillis(0), celsius(20), celsius(50), 5),
          piece,
          epochMillis(Math.round(seconds * 10)),
          celsius(50),
        );
        return state.temperatures.every((t) => t >= 20 - 1e-9 && t <= 50 + 1e-9);
      }),
      { numRuns: 30 },
    );
  });

  it('keeps its state as plain JSON and counts late and impossible readings', () => {
    const piece = body(SHEET);
    const state = soakStart(piece, epochMillis(1000), celsius(20), celsius(50));
    const bad = [epochMillis(1000), Number.NaN as EpochMillis].map((at) =>
      soakStep(state, piece, at, celsius(50)),
    );
    expect(bad.map(({ skipped }) => skipped)).toEqual([1, 1]);
    expect(soakStep(state, piece, epochMillis(2000), Number.NaN as Celsius).skipped).toBe(1);
    expect(JSON.parse(JSON.stringify(state))).toEqual(state);
  });
});

describe('soft to the core', () => {
  it('comes later in still air than with a fan, and soonest in water', () => {
    const after = (['still-air', 'fan-air', 'water-bath'] as const).map((surroundings) => {
      const result = softToTheCoreAfter(body(STICK, surroundings), celsius(22), celsius(50), celsius(45));
      return result.ok ? result.value : Number.NaN;
    });
    expect(after).toEqual([...after].sort((a, b) => b - a));
    expect(after.every((seconds) => seconds > 60)).toBe(true);
  });

  it('is when the core meets the softening temperature', () => {
    const piece = body(CAKE, 'fan-air');
    const after = softToTheCoreAfter(piece, celsius(22), celsius(50), celsius(45));
    expect(after.ok).toBe(true);
    if (!after.ok) return;
    const core = soakCelsius(piece, celsius(22), celsius(50), after.value);
    expect(core.ok ? core.value : null).toBeCloseTo(45, 6);
  });

  it('agrees between series and scheme to 2 %', () => {
    for (const which of [STICK, SHEET, CAKE]) {
      const piece = body(which, 'fan-air');
      const series = softToTheCoreAfter(piece, celsius(22), celsius(50), celsius(45));
      const scheme = softToTheCoreAt(
        soakStart(piece, epochMillis(0), celsius(22), celsius(50)),
        piece,
        celsius(45),
      );
      expect(series.ok && scheme.ok && Math.abs(scheme.value / 1000 / series.value - 1)).toBeLessThan(0.02);
    }
  });

  it('moves away when the bath is let cool', () => {
    const piece = body(CAKE, 'water-bath');
    const start = soakStart(piece, epochMillis(0), celsius(22), celsius(52));
    const steady = softToTheCoreAt(
      soakStep(start, piece, epochMillis(120_000), celsius(52)),
      piece,
      celsius(45),
    );
    const cooling = softToTheCoreAt(
      soakStep(start, piece, epochMillis(120_000), celsius(47)),
      piece,
      celsius(45),
    );
    expect(steady.ok && cooling.ok && cooling.value > steady.value).toBe(true);
  });

  it('takes twice the depth for a sheet warmed from one side only', () => {
    const oneSided = soakTheta(body({ ...SHEET, oneSided: true }, 25));
    const both = soakTheta(body({ kind: 'sheet', thickness: millimetres(4) }, 25));
    expect(oneSided(100)).toBe(both(100));
  });

  it('computes how warm a lamp makes a surface seem', () => {
    expect(underLamp(celsius(22), 400, 0.9, 12)).toEqual({ ok: true, value: 52 });
    expect(underLamp(celsius(22), -1, 0.9, 12).ok).toBe(false);
    expect(underLamp(celsius(22), 100, 1.1, 12).ok).toBe(false);
  });

  it('takes the solid figures of a wax class', () => {
    const made = soakBody(STICK, soakMaterialOf(waxClass('inlay-type-1')), 'fan-air');
    expect(made.ok).toBe(true);
  });

  it('gives the reason why it has no answer', () => {
    const code = (result: { ok: boolean; problem?: { code: string } }) =>
      result.ok ? null : result.problem?.code;
    const piece = body(STICK);
    expect(code(softToTheCoreAfter(piece, celsius(20), celsius(40), celsius(45)))).toBe('never-soft');
    expect(code(softToTheCoreAfter(piece, celsius(20), Number.NaN as Celsius, celsius(45)))).toBe(
      'not-a-temperature',
    );
    expect(code(soakCelsius(piece, celsius(20), celsius(50), -1))).toBe('bad-duration');
    expect(code(soakCelsius(piece, Number.NaN as Celsius, celsius(50), 1))).toBe('not-a-temperature');
    expect(code(soakBody({ kind: 'sheet', thickness: millimetres(0) }, WAX, 10))).toBe('bad-soak-body');
    expect(code(soakBody(SHEET, { ...WAX, density: Number.NaN }, 10))).toBe('bad-soak-body');
    const cold = soakStart(piece, epochMillis(0), celsius(20), celsius(40));
    expect(code(softToTheCoreAt(cold, piece, celsius(45)))).toBe('never-soft');
    expect(softToTheCoreAt(cold, piece, celsius(19))).toEqual({ ok: true, value: 0 });
  });
});
