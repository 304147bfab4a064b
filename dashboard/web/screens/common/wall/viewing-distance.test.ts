import { describe, expect, it } from 'vitest';
import { capHeightMillimetres, millimetresPerPixel, typePixels } from './viewing-distance.ts';

const wall = { diagonal_inches: 43, width_pixels: 1920, height_pixels: 1080 };

describe('sizes that follow from where people stand', () => {
  // h = 2 d tan(a/2), computed beside the formula for the angles of ISO 9241-303.
  it.each([
    [16, 2, 9.3],
    [20, 3, 17.5],
    [22, 5, 32.0],
    [30, 8, 69.8],
    [16, 0.4, 1.9],
  ])('a capital of %d minutes of arc at %d m is %d mm high', (arc, distance, millimetres) => {
    expect(capHeightMillimetres(arc, distance)).toBeCloseTo(millimetres, 1);
  });
  it('a 43-inch screen of 1920 by 1080 has pixels of 0.496 mm', () => {
    expect(millimetresPerPixel({ ...wall, distance_metres: 4 })).toBeCloseTo(0.496, 3);
  });
  it.each([
    [16, 3, 41],
    [20, 3, 51],
    [30, 3, 76],
    [16, 5, 68],
  ])('%d minutes at %d m on it need type of about %d px', (arc, distance_metres, pixels) => {
    expect(Math.abs(typePixels(arc, { ...wall, distance_metres }) - pixels)).toBeLessThan(1.5);
  });
  it('doubles the pixels where there are twice as many on the same glass', () => {
    const fine = { ...wall, width_pixels: 3840, height_pixels: 2160, distance_metres: 4 };
    expect(typePixels(20, fine)).toBeCloseTo(2 * typePixels(20, { ...wall, distance_metres: 4 }), 6);
  });
});
