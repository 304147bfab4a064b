// The night of the storage places: the history of each, its limit, gaps left open. Pure.

import type { PlaceLine } from '../api/night.ts';
import { type Chart, type ChartFormats, toUnit } from './chart.ts';
import { lineWithGaps } from './line-with-gaps.ts';
import { timeAxis } from './time-axis.ts';
import { temperatureAxis } from './value-axis.ts';

/** As in the figures of the sheet: a longer time without readings is a gap. */
const GAP_MILLIS = 900_000;

interface NightWords {
  readonly label: (places: string) => string;
  readonly limit: (temperature: string) => string;
}

/** Null when no place has readings. `from` and `to` are epoch milliseconds. */
export const storageNightChart = (
  night: { readonly places: readonly PlaceLine[]; readonly from: number; readonly to: number },
  formats: ChartFormats,
  words: NightWords,
): Chart | null => {
  const places = night.places.filter(({ course }) => course.length > 0);
  if (places.length === 0) return null;
  const limits = [
    ...new Set(
      places.flatMap(({ storageMaxCelsius }) => (storageMaxCelsius === null ? [] : [storageMaxCelsius])),
    ),
  ];
  const y = temperatureAxis(
    [...limits, ...places.flatMap(({ course }) => course.flatMap(({ min, max }) => [min, max]))],
    formats,
  );
  return {
    label: words.label(places.map(({ name }) => name).join(', ')),
    x: timeAxis(night.from, night.to, formats),
    y,
    window: null,
    limits: limits.map((celsius) => {
      const value = toUnit(celsius, formats);
      return { y: value, text: words.limit(y.textOf(value)) };
    }),
    series: places.map(({ name, course, courseSeconds }, style) => ({
      name,
      points: lineWithGaps(course, courseSeconds * 1000 + GAP_MILLIS, (celsius) => toUnit(celsius, formats))
        .points,
      band: [],
      dots: [],
      style,
    })),
    ranges: [],
    events: [],
  };
};
