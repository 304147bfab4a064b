import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { HeatCycle, UsualBand } from './heater-band.ts';
import { type Rhythm, rhythmStep } from './rhythm.ts';

const usual: UsualBand = {
  high: 92,
  low: 88,
  riseSeconds: 200,
  fallSeconds: 200,
  spread: 0.1,
  top: 92,
  bottom: 88,
  learned: 20,
  at: 0,
};
/** A contact that heats with `power` K/s against a loss of `loss` K/s, between 88 °C and `high`. */
const cycleAt = (at: number, power: number, loss: number, high = 92): HeatCycle => ({
  at,
  low: 88,
  high,
  riseSeconds: (high - 88) / (power - loss),
  fallSeconds: (high - 88) / loss,
  disturbed: false,
});
const PERIOD = 400_000;
const rhythmOf = (count: number, cycle: (index: number) => HeatCycle, learns = true): Rhythm | null => {
  const cycles = Array.from({ length: count }, (_, index) => cycle(index));
  let rhythm: Rhythm | null = null;
  for (let end = 1; end <= count; end += 1)
    rhythm = rhythmStep(rhythm, cycles.slice(Math.max(0, end - 16), end), usual, learns);
  return rhythm;
};

describe('the rhythm of a thermostat', () => {
  it('has a pace that is power over heat capacity, whatever is lost', () => {
    const loss = fc.double({ min: 0.005, max: 0.03, noNaN: true });
    fc.assert(
      fc.property(loss, loss, (least, most) => {
        const paces = [least, most].map(
          (lost) => rhythmOf(20, (index) => cycleAt(index * PERIOD, 0.04, lost))?.pace ?? Number.NaN,
        );
        expect(paces[0]).toBeCloseTo(Math.log(60 * 0.04), 9);
        expect(paces[1]).toBeCloseTo(Math.log(60 * 0.04), 9);
      }),
    );
  });

  it('is not known before seven cycles, nor from cycles that lie further apart than hours', () => {
    expect(rhythmOf(6, (index) => cycleAt(index * PERIOD, 0.04, 0.02))).toBeNull();
    expect(rhythmOf(20, (index) => cycleAt(index * 8 * PERIOD, 0.04, 0.02))).toBeNull();
  });

  it('keeps its usual pace while much faster cycles come, and takes theirs after a hundred', () => {
    const faster = (count: number) =>
      rhythmOf(40 + count, (index) => cycleAt(index * PERIOD, index < 40 ? 0.04 : 0.08, 0.02));
    expect(faster(50)?.pace).toBeCloseTo(Math.log(60 * 0.04), 1);
    expect(faster(130)?.pace).toBeCloseTo(Math.log(60 * 0.08), 9);
  });

  it('has a scatter that is the median difference of one top from the next', () => {
    const even = rhythmOf(20, (index) => cycleAt(index * PERIOD, 0.04, 0.02));
    const ragged = rhythmOf(20, (index) => cycleAt(index * PERIOD, 0.04, 0.02, index % 2 === 0 ? 92 : 91));
    expect(even?.scatter).toBe(0);
    expect(ragged?.scatter).toBe(1);
  });

  it('learns nothing while something is suspicious', () => {
    const rhythm = rhythmOf(20, (index) => cycleAt(index * PERIOD, 0.04, 0.02), false);
    expect(rhythm).toMatchObject({ learned: 0 });
  });
});
