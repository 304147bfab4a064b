import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { typePixels } from './viewing-distance.ts';
import { NEEDS, shrinkToFit, wallLayout } from './wall-layout.ts';

const full = { width_pixels: 1920, height_pixels: 945 };
const viewing = { distance_metres: 4, diagonal_inches: 43, width_pixels: 1920, height_pixels: 1080 };
const perArc = typePixels(1, viewing);

describe('the layout of the wall', () => {
  it.each(Array.from({ length: 40 }, (_, index) => index + 1))(
    'has a place for each of %d stations',
    (count) => {
      const layout = wallLayout(count, full, perArc, 4);
      expect(layout.columns * layout.rows).toBeGreaterThanOrEqual(count);
      expect(layout.columns * (layout.rows - 1)).toBeLessThan(count);
    },
  );
  it('shows everything of eight stations at the sizes that four metres ask', () => {
    const layout = wallLayout(8, full, perArc, 4);
    expect(layout.level).toBe('full');
    expect(NEEDS.full.digits * layout.scale).toBeGreaterThanOrEqual(30);
    expect(layout.readable_metres).toBeGreaterThanOrEqual(4);
  });
  it('still shows the limits of twelve stations there', () => {
    expect(wallLayout(12, full, perArc, 4)).toMatchObject({ level: 'middle', columns: 4, rows: 3 });
  });
  it('keeps the digits of forty stations at fifteen minutes of arc or more, and reports a shorter reading distance for the rest', () => {
    const layout = wallLayout(40, full, perArc, 4);
    expect(layout.level).toBe('compact');
    expect(NEEDS.compact.digits * layout.scale).toBeGreaterThanOrEqual(15);
    expect(layout.readable_metres).toBeLessThan(4);
  });
  it('never runs over the screen, whatever its shape and however many stations', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 40 }),
        fc.integer({ min: 320, max: 7680 }),
        fc.integer({ min: 320, max: 4320 }),
        fc.double({ min: 0.2, max: 20, noNaN: true }),
        (count, width_pixels, height_pixels, pixelsPerArc) => {
          const layout = wallLayout(count, { width_pixels, height_pixels }, pixelsPerArc, 4);
          const type = pixelsPerArc * layout.scale;
          const needs = NEEDS[layout.level];
          const least = needs.digits * needs.lane + needs.name + needs.state + needs.facts * needs.factLines;
          expect(layout.columns * needs.width * type).toBeLessThanOrEqual(width_pixels * 1.0001);
          expect(layout.rows * least * type).toBeLessThanOrEqual(height_pixels * 1.0001);
        },
      ),
    );
  });
  it('shows less of each station as they grow more, never more again', () => {
    const order = ['full', 'middle', 'compact'];
    const shown = Array.from({ length: 40 }, (_, index) =>
      order.indexOf(wallLayout(index + 1, full, perArc, 4).level),
    );
    expect(shown.at(0)).toBe(0);
    expect(shown.at(-1)).toBe(2);
    expect(shown.filter((level, index) => level < (shown[index - 1] ?? 0)).length).toBeLessThanOrEqual(2);
  });
});

describe('long words', () => {
  it('keep their size when there is room and shrink to no less than six tenths', () => {
    expect(shrinkToFit(5, 500, 50)).toBe(1);
    expect(shrinkToFit(100, 500, 50)).toBe(0.62);
    expect(shrinkToFit(20, 380, 50)).toBeCloseTo(380 / (20 * 50 * 0.46), 6);
  });
});
