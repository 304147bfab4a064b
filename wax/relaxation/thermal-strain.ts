// Change of length with temperature, by integrating the piecewise expansion curve of the class; the slope jumps
// at the transition. Solid wax only: from the end of melting on, a length has no meaning and the curve stands.

import { failure, type Result, success } from '../result.ts';
import { isTemperature } from '../reading-guard.ts';
import type { Celsius, Strain } from '../units.ts';
import type { WaxClass } from '../classes/wax-properties.ts';

/** Integral of the expansion coefficient from the start of the first piece to `celsius`. */
const expansionUpTo = (wax: WaxClass, celsius: number): number => {
  const end = Math.min(celsius, wax.melting.high.value);
  let sum = 0;
  for (let index = 0; index < wax.expansion.length; index += 1) {
    const piece = wax.expansion[index];
    if (piece === undefined || (index > 0 && end <= piece.from.value)) break;
    const next = wax.expansion[index + 1]?.from.value ?? Number.POSITIVE_INFINITY;
    sum += piece.coefficient.value * (Math.min(end, next) - piece.from.value);
  }
  return sum;
};

/**
 * Positive when it grows. Outside of what was measured the nearest coefficient is carried on.
 * @throws RangeError for what is no temperature; check what comes from outside with `checkedThermalStrain`
 */
export const thermalStrain = (wax: WaxClass, from: Celsius, to: Celsius): Strain => {
  if (!isTemperature(from) || !isTemperature(to)) throw new RangeError(`thermalStrain: ${from} to ${to} °C`);
  return (expansionUpTo(wax, to) - expansionUpTo(wax, from)) as Strain;
};

/** `thermalStrain` for plain numbers from outside. */
export const checkedThermalStrain = (wax: WaxClass, from: number, to: number): Result<Strain> =>
  isTemperature(from) && isTemperature(to)
    ? success(thermalStrain(wax, from as Celsius, to as Celsius))
    : failure('not-a-temperature', {}, `${from}, ${to}`);
