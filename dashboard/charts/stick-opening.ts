// A bent-stick test: readings of each stick as marks, its fitted curve with the 95 % band of the curve. Pure.

import type { BentStickView } from '../api/bent-stick.ts';
import type { Chart, ChartFormats } from './chart.ts';
import { valueAxis } from './value-axis.ts';

/** A band that is wide beyond measure must not flatten the readings. */
const HEADROOM = 1.3;

interface OpeningWords {
  readonly label: string;
  /** Titles of the axes, with their units. */
  readonly hours: string;
  readonly millimetres: string;
  readonly stick: (number: number, celsius: number) => string;
}

export const stickOpeningChart = (
  { curves, residuals }: Pick<BentStickView, 'curves' | 'residuals'>,
  formats: Pick<ChartFormats, 'number'>,
  words: OpeningWords,
): Chart => {
  const hours = [...residuals, ...curves.flatMap(({ points }) => points)].map((point) => point.hours);
  const heights = [
    ...residuals.map(({ measured }) => measured),
    ...curves.flatMap(({ points }) => points.map(({ millimetres }) => millimetres)),
  ];
  const highest = heights.reduce((most, value) => Math.max(most, value), 0);
  const longest = hours.reduce((most, value) => Math.max(most, value), 0);
  return {
    label: words.label,
    x: valueAxis(0, longest || 1, { title: words.hours, unit: 'h', digits: 1 }, formats),
    y: valueAxis(0, highest * HEADROOM || 1, { title: words.millimetres, unit: 'mm', digits: 2 }, formats),
    window: null,
    limits: [],
    series: curves.map(({ stick, celsius, points }) => ({
      name: words.stick(stick, celsius),
      points: points.map(({ hours: x, millimetres: y }) => ({ x, y })),
      band: points.map(({ hours: x, low, high }) => ({ x, low, high })),
      dots: residuals
        .filter((residual) => residual.stick === stick)
        .map(({ hours: x, measured: y }) => ({ x, y })),
      style: stick - 1,
    })),
    ranges: [],
    events: [],
  };
};
