import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LANE, laneAnchors, laneHeight } from './lane-scale.ts';

const dip = { low: 85, high: 95, ceiling: 100 };
const cabinet = { low: 18, high: 23, ceiling: 26 };
const at = (limits: Parameters<typeof laneAnchors>[0], celsius: number) =>
  laneHeight(laneAnchors(limits, celsius) ?? [], celsius);

describe('the scale that every station shares', () => {
  it.each([dip, cabinet])('puts window and ceiling of any station at the same heights', (limits) => {
    expect(at(limits, limits.low)).toBeCloseTo(LANE.low, 9);
    expect(at(limits, limits.high)).toBeCloseTo(LANE.high, 9);
    expect(at(limits, limits.ceiling)).toBeCloseTo(LANE.ceiling, 9);
  });
  it('shows a cold heater low on the lane, and still on it', () => {
    expect(at(dip, 22)).toBeGreaterThanOrEqual(LANE.bottom);
    expect(at(dip, 22)).toBeLessThan(0.12);
  });
  it('holds what is far outside at the edge', () => {
    expect(at(dip, 400)).toBe(LANE.top);
    expect(at(dip, -200)).toBe(LANE.bottom);
  });
  it.each([
    { low: null, high: null, ceiling: 28 },
    { low: null, high: 25, ceiling: null },
    { low: 18, high: 24, ceiling: null },
    { low: null, high: null, ceiling: null },
  ])('has a scale also where limits are missing', (limits) => {
    const height = at(limits, 21);
    expect(height).toBeGreaterThan(0);
    expect(height).toBeLessThan(1);
  });
  it('has none where there is neither limit nor reading', () => {
    expect(laneAnchors({ low: null, high: null, ceiling: null }, null)).toBeNull();
  });
  it('never falls while the temperature rises', () => {
    const limit = fc.option(fc.double({ min: -30, max: 200, noNaN: true }), { nil: null });
    fc.assert(
      fc.property(
        fc.record({ low: limit, high: limit, ceiling: limit }),
        fc.double({ min: -50, max: 300, noNaN: true }),
        fc.double({ min: 0, max: 100, noNaN: true }),
        (limits, celsius, more) => {
          const anchors = laneAnchors(limits, 21);
          if (!anchors) return;
          expect(laneHeight(anchors, celsius + more)).toBeGreaterThanOrEqual(laneHeight(anchors, celsius));
        },
      ),
    );
  });
});
