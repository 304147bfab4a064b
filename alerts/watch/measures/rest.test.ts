import { describe, expect, it } from 'vitest';
import { type Rest, restShift, restStep } from './rest.ts';

const STRETCH = 600_000;
const resting = (count: number, kelvins: (index: number) => number): Rest | null => {
  let rest: Rest | null = null;
  for (let index = 1; index <= count; index += 1) rest = restStep(rest, index * STRETCH, kelvins(index));
  return rest;
};

describe('a heater at rest', () => {
  it('stands from the places around it as it usually does', () => {
    expect(
      restShift(
        resting(60, () => 0.4),
        60 * STRETCH,
        36,
      ),
    ).toBeCloseTo(0, 9);
  });
  it('shows what its probe drifts by within a night, once a night has made the usual difference', () => {
    const drifting = resting(150, (index) => 0.4 + Math.max(0, index - 60) * 0.02);
    expect(restShift(drifting, 150 * STRETCH, 36)).toBeGreaterThan(1.5);
  });
  it('says nothing on few stretches, nor of half an hour ago and more', () => {
    expect(
      restShift(
        resting(35, () => 0.4),
        35 * STRETCH,
        36,
      ),
    ).toBeNull();
    expect(
      restShift(
        resting(60, () => 0.4),
        64 * STRETCH,
        36,
      ),
    ).toBeNull();
    expect(restShift(null, 0, 36)).toBeNull();
  });
});
