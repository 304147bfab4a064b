// The drawing of a course as a path, and the levels of its scale. Pure.

interface Point {
  readonly at: string;
  readonly mean: number;
}

/** As in the figures: a longer time without readings is a gap. */
const GAP_MILLIS = 900_000;

/** A path that is broken where nothing was measured. */
export const courseLine = (
  course: readonly Point[],
  widthSeconds: number,
  x: (at: number) => number,
  y: (celsius: number) => number,
): string => {
  let before = Number.NEGATIVE_INFINITY;
  return course
    .map(({ at, mean }) => {
      const instant = Date.parse(at);
      const isBroken = instant - before > widthSeconds * 1000 + GAP_MILLIS;
      before = instant;
      return `${isBroken ? 'M' : 'L'}${x(instant).toFixed(1)} ${y(mean).toFixed(1)}`;
    })
    .join('');
};

/** Whole degrees of the reader's unit, as °C, about five of them. */
export const degreeLines = (low: number, high: number, unit: 'celsius' | 'fahrenheit'): readonly number[] => {
  const to = (celsius: number) => (unit === 'celsius' ? celsius : celsius * 1.8 + 32);
  const back = (value: number) => (unit === 'celsius' ? value : (value - 32) / 1.8);
  const step = [1, 2, 5, 10, 20, 50].find((one) => (to(high) - to(low)) / one <= 6) ?? 100;
  const first = Math.ceil(to(low) / step);
  const count = Math.floor(to(high) / step) - first + 1;
  return Array.from({ length: count }, (_, index) => back((first + index) * step));
};
