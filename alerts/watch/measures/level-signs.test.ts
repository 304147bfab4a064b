import { describe, expect, it } from 'vitest';
import type { HeatCycle, UsualBand } from './heater-band.ts';
import { type LevelSigns, levelSignsStep } from './level-signs.ts';

const PERIOD = 400_000;
/** A heater of `power` K/s against a loss of half of it, `width` wide up to `high`. */
const cycleAt = (index: number, power: number, width: number, high = 92, period = PERIOD): HeatCycle => ({
  at: index * period,
  low: high - width,
  high,
  riseSeconds: (2 * width) / power,
  fallSeconds: (2 * width) / power,
  disturbed: false,
});
const signsOf = (
  cycles: readonly HeatCycle[],
  learnsUntil = cycles.length,
  usual: UsualBand | null = null,
): LevelSigns | null => {
  let signs: LevelSigns | null = null;
  for (let end = 1; end <= cycles.length; end += 1)
    signs = levelSignsStep(signs, cycles.slice(Math.max(0, end - 16), end), usual, end <= learnsUntil);
  return signs;
};
const cycles = (count: number, cycle: (index: number) => HeatCycle): readonly HeatCycle[] =>
  Array.from({ length: count }, (_, index) => cycle(index));

describe('the signs of a pot’s level', () => {
  it('are not known before seven cycles, nor from cycles that lie hours apart', () => {
    expect(signsOf(cycles(6, (index) => cycleAt(index, 0.04, 4)))).toBeNull();
    expect(signsOf(cycles(20, (index) => cycleAt(index, 0.04, 4, 92, 8 * PERIOD)))).toBeNull();
  });

  it('have a pace that is power over heat capacity, whatever the width of a cycle', () => {
    for (const width of [1, 2, 7])
      expect(signsOf(cycles(20, (index) => cycleAt(index, 0.04, width)))?.pace.mean).toBeCloseTo(
        Math.log(60 * 0.04),
        9,
      );
  });

  it('keep the usual pace while a third less heat capacity makes cycles faster', () => {
    const signs = signsOf(cycles(80, (index) => cycleAt(index, index < 40 ? 0.04 : 0.06, 4)));
    expect(signs?.pace.mean).toBeCloseTo(Math.log(60 * 0.04), 1);
    expect(signs?.newest.at(-1)?.pace).toBeCloseTo(Math.log(60 * 0.06), 9);
  });

  it('remember how fast work made its cycles on the days before, and not today', () => {
    const HOURS = 3_600_000;
    const days = (count: number) =>
      cycles(count * 60, (index) => ({
        ...cycleAt(index, index % 60 > 20 && index % 60 < 40 ? 0.05 : 0.04, 4),
        at: Math.floor(index / 60) * 24 * HOURS + (index % 60) * PERIOD,
      }));
    expect(signsOf(days(1))?.worked).toMatchObject({ days: 0, before: 0 });
    const third = signsOf(days(3))?.worked;
    expect(third?.days).toBe(2);
    expect(third?.before).toBeGreaterThan(0.1);
    expect(third?.before).toBeLessThan(Math.log(0.05 / 0.04));
  });

  it('leave out the cycles at which somebody was at work, however fast they are', () => {
    const isWork = (index: number) => index % 3 === 0;
    const signs = signsOf(
      cycles(60, (index) => ({
        ...cycleAt(index, isWork(index) ? 0.09 : 0.04, 4),
        disturbed: isWork(index),
      })),
    );
    expect(signs?.pace.mean).toBeCloseTo(Math.log(60 * 0.04), 9);
    expect(signs?.newest.map(({ pace }) => pace)).toEqual(Array(3).fill(signs?.pace.mean));
  });

  it('leave out cycles less than 0.6 times as wide as usual, as wax that melts again makes them', () => {
    const usual = {
      ...{ high: 92, low: 88, riseSeconds: 200, fallSeconds: 200, spread: 0.1 },
      ...{ top: 92, bottom: 88, learned: 30, at: 0 },
    };
    const mixed = cycles(60, (index) =>
      index % 3 === 0 ? cycleAt(index, 0.02, 2.3) : cycleAt(index, 0.04, 2.5),
    );
    expect(signsOf(mixed, 60, usual)?.pace.mean).toBeCloseTo(Math.log(60 * 0.04), 9);
    expect(signsOf(mixed, 60, null)?.newest.at(-1)?.slowPace).toBeCloseTo(Math.log(60 * 0.02), 9);
  });

  it('are none while somebody is at work in nearly every cycle', () => {
    expect(
      signsOf(cycles(60, (index) => ({ ...cycleAt(index, 0.04, 4), disturbed: index % 4 > 0 }))),
    ).toBeNull();
  });

  it('learn nothing while something is suspicious', () => {
    const signs = signsOf(
      cycles(60, (index) => cycleAt(index, index < 30 ? 0.04 : 0.042, 4)),
      30,
    );
    expect(signs?.pace.mean).toBeCloseTo(Math.log(60 * 0.04), 9);
    expect(signs?.newest.at(-1)?.pace).toBeCloseTo(Math.log(60 * 0.042), 9);
  });
});
