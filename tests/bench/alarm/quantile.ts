// The nearest-rank quantile of measured times, and how they are printed.

export const quantile = (values: readonly number[], share: number): number =>
  [...values].sort((a, b) => a - b)[Math.ceil(values.length * share) - 1] ?? Number.NaN;
export const rounded = (millis: number): number => Math.round(millis * 100) / 100;
