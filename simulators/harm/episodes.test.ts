import { describe, expect, it } from 'vitest';
import { episodes } from './episodes.ts';

const record = { station: 's', from: 1000, stepMillis: 10, spots: { x: new Float32Array(20) } };
const during = (spans: readonly (readonly [number, number])[], hold: number) =>
  episodes(record, 1000, 1190, hold, (i) => spans.some(([from, to]) => i >= from && i < to));

describe('an episode', () => {
  it('is harm once it has held for so long, and not where it held for less', () => {
    expect(during([[2, 7]], 50)).toEqual([{ since: 1020, harm: 1070, until: 1070 }]);
    expect(during([[2, 7]], 51)).toEqual([]);
  });

  it('begins anew after a break', () => {
    expect(
      during(
        [
          [2, 5],
          [6, 9],
        ],
        40,
      ),
    ).toEqual([]);
    expect(
      during(
        [
          [2, 5],
          [6, 9],
        ],
        30,
      ).map(({ since }) => since),
    ).toEqual([1020, 1060]);
  });

  it('that lasts to the end of the case ends with it', () => {
    expect(during([[15, 30]], 20)).toEqual([{ since: 1150, harm: 1170, until: 1190 }]);
  });
});
