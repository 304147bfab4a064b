import { describe, expect, it } from 'vitest';
import { MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import { type GrowingFalls, growingFalls } from './growing-falls.ts';

const fallsOf = (kelvins: readonly number[], apartMinutes = 20) =>
  kelvins.map((fall, index) => ({ at: index * apartMinutes * MILLIS_PER_MINUTE, kelvins: fall }));
/** Eight falls of 1 K at first that grow evenly, `times` as steep from the median of the first three to that of the last three. */
const grown = (times: number) => Array.from({ length: 8 }, (_, index) => times ** ((index - 1) / 5));
const of = (kelvins: readonly number[], growing: GrowingFalls | null = null) =>
  growingFalls(growing, fallsOf(kelvins), 0.1);

describe('falls at work that grow', () => {
  it('do from eight on, a third steeper at the end than at the beginning', () => {
    expect(of(grown(1.33))).toEqual({ kelvins: expect.closeTo(1.33), usual: 1 });
    expect(of(grown(1.27))).toBeNull();
    expect(of(grown(1.6).slice(1))).toBeNull();
  });
  it('do not where they differ by a step of the probe or two', () => {
    expect(growingFalls(null, fallsOf(grown(1.33)), 0.35)).toBeNull();
  });
  it('do not over a night', () => {
    expect(growingFalls(null, fallsOf(grown(1.5), 42), 0.1)).not.toBeNull();
    expect(growingFalls(null, fallsOf(grown(1.5), 43), 0.1)).toBeNull();
  });
  it('do not where one kind of work follows another', () => {
    expect(of([1.8, 1.9, 1.9, 2, 2, 3.8, 4.2, 4.4])).toBeNull();
  });
  it('stay grown until the newest are as before, and grow again later', () => {
    const growing = { kelvins: 1.5, usual: 1 };
    const filling = [1.3, 1.4, 1.5, 1.6, 1.6, 3];
    expect(of([...filling, 1], growing)).toEqual({ kelvins: 1.6, usual: 1 });
    const filled = of([...filling, 1, 1.1], growing);
    expect(filled).toEqual({ kelvins: 1, usual: 1 });
    expect(of([...filling, 1, 1.1, 1, 1.1], filled)).toEqual(filled);
    expect(
      of(
        grown(1.5).map((fall) => 2 * fall),
        filled,
      ),
    ).toEqual({ kelvins: expect.closeTo(3), usual: 2 });
  });
});
