// Values up a chart: ticks on round numbers, the ends just beyond what is drawn. Pure.

import { type ChartAxis, type ChartFormats, toUnit } from './chart.ts';

const MOST_TICKS = 6;

/** The smallest of 1, 2 or 5 times a power of ten that gives at most six steps. */
const roundStep = (span: number): number => {
  const power = 10 ** Math.floor(Math.log10(span / MOST_TICKS));
  return ([1, 2, 5].find((factor) => span / (factor * power) <= MOST_TICKS) ?? 10) * power;
};

/** Decimals that tell two neighbouring ticks apart. */
const digitsOf = (step: number): number => Math.max(0, -Math.floor(Math.log10(step) + 1e-9));

/** @example valueTicks(17, 26) // [18, 20, 22, 24, 26] */
export const valueTicks = (low: number, high: number): readonly number[] => {
  const step = roundStep(high - low);
  const first = Math.ceil(low / step - 1e-9);
  const count = Math.floor(high / step + 1e-9) - first + 1;
  return Array.from({ length: count }, (_, index) => (first + index) * step);
};

export interface ValueAxisOptions {
  readonly title: string;
  /** Follows the value where one is read out. */
  readonly unit: string;
  /** Decimals of a value that is read out. */
  readonly digits: number;
}

/** From `low` to `high`, which differ. */
export const valueAxis = (
  low: number,
  high: number,
  { title, unit, digits }: ValueAxisOptions,
  { number }: Pick<ChartFormats, 'number'>,
): ChartAxis => {
  const tickDigits = digitsOf(roundStep(high - low));
  return {
    low,
    high,
    title,
    ticks: valueTicks(low, high).map((value) => ({ value, text: number(value, tickDigits) })),
    textOf: (value) => `${number(value, digits)} ${unit}`,
  };
};

/** Shown where nothing was measured and no limit is set, °C. */
const EMPTY_CELSIUS = [0, 100] as const;
/** Room above the highest value, for the words at a limit. */
const HEADROOM_SHARE = 0.12;

/** An axis of temperatures over all that is drawn, given in °C. */
export const temperatureAxis = (celsius: readonly number[], formats: ChartFormats): ChartAxis => {
  const values = (celsius.length > 0 ? celsius : EMPTY_CELSIUS).map((value) => toUnit(value, formats));
  const lowest = values.reduce((low, value) => Math.min(low, value));
  const highest = values.reduce((high, value) => Math.max(high, value));
  const low = Math.floor(lowest) - 1;
  const high = Math.ceil(highest + Math.max(1, (highest - low) * HEADROOM_SHARE));
  const unit = formats.unit === 'celsius' ? '°C' : '°F';
  return valueAxis(low, high, { title: unit, unit, digits: 1 }, formats);
};
