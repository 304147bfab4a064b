import { describe, expect, it } from 'vitest';
import { type HeatCycle, type HeaterBand, startBand } from './heater-band.ts';
import { followSetPoint } from './set-point.ts';

const PERIOD = 600_000;
const cycleAt = (index: number, high: number, other: Partial<HeatCycle> = {}): HeatCycle => ({
  at: index * PERIOD,
  riseSeconds: 200,
  fallSeconds: 400,
  low: high - 3,
  high,
  disturbed: false,
  ...other,
});
/** A pot whose tops were at 80 °C in its first days. */
const bandOf = (cycles: readonly HeatCycle[]): HeaterBand => ({
  ...startBand(0, 78),
  cycles,
  reference: { high: 80, cycles: 60, since: 0, lowest: 79.8, highest: 80.2 },
});
const movedBy = (
  topOf: (index: number) => number,
  other: (index: number) => Partial<HeatCycle> = () => ({}),
) =>
  followSetPoint(bandOf(Array.from({ length: 9 }, (_, index) => cycleAt(index, topOf(index), other(index)))))
    ?.moved;

describe('the set point of a pot', () => {
  it.each([-2.5, 1, 2.5])(
    'that is turned by %s K is followed once four cycles closed at the new one',
    (kelvins) => {
      const moved = movedBy((index) => (index < 5 ? 80 : 80 + kelvins));
      expect(moved).toHaveLength(1);
      expect(moved?.[0]).toBeCloseTo(kelvins, 9);
    },
  );
  it.each([
    { what: 'creep away from cycle to cycle', topOf: (index: number) => 80 + 0.4 * index },
    { what: 'move by less than a knob does', topOf: (index: number) => (index < 5 ? 80 : 80.4) },
    { what: 'move as far as a lid lets them', topOf: (index: number) => (index < 5 ? 80 : 74) },
  ])('is taken for the same where tops $what', ({ topOf }) => {
    expect(movedBy(topOf)).toBeUndefined();
  });
  const turned = (index: number) => (index < 5 ? 80 : 78);
  it.each([
    { what: 'the pot heats for longer than before', other: { riseSeconds: 300 } },
    { what: 'somebody works at it', other: { disturbed: true } },
    { what: 'its bottoms stay where they were', other: { low: 77 } },
  ])('is taken for the same where $what', ({ other }) => {
    expect(movedBy(turned, (index) => (index < 5 ? {} : other))).toBeUndefined();
  });
  it.each([4, 5, 6])('is taken for the same where a night lies before turn %s', (morning) => {
    expect(
      movedBy(
        (index) => (index < morning ? 80 : 78),
        (index) => (index < morning ? {} : { at: index * PERIOD + 14 * 3_600_000 }),
      ),
    ).toBeUndefined();
  });
});
