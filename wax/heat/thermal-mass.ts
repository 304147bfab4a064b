// How much wax is in a pot, from how fast it warms and cools: rise plus fall at the same temperature is heater power
// over heat capacity, whatever is lost to the room. A pot that heats faster than it used to is low on wax.
// Source: heat balance of a lumped body, C dT/dt = P - G (T - Ta) (Incropera & DeWitt ch. 5; from memory).
// It refuses cycles that touch the melting range, where heat goes into melting.

import { isTemperature, isWithin } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';
import type { ThermostatCycle } from './thermostat-cycle.ts';
import type { Celsius } from '../units.ts';

export interface ThermalRates {
  /** K/s of rise plus K/s of fall: heater power over heat capacity. */
  readonly powerOverCapacity: number;
  /** Standard error of that, from the scatter of the cycles. */
  readonly standardError: number;
  readonly cycles: number;
}

const FEWEST_CYCLES = 3;

export function thermalRates(
  cycles: readonly ThermostatCycle[],
  melting?: { readonly low: Celsius; readonly high: Celsius },
): Result<ThermalRates> {
  const usable = cycles.filter(
    ({ low, high, riseSeconds, fallSeconds }) =>
      riseSeconds > 0 &&
      fallSeconds > 0 &&
      isTemperature(low) &&
      isTemperature(high) &&
      high > low &&
      (melting === undefined || low > melting.high || high < melting.low),
  );
  if (usable.length < FEWEST_CYCLES)
    return failure('too-few-cycles', { fewest: FEWEST_CYCLES }, usable.length);
  const rates = usable.map(
    ({ low, high, riseSeconds, fallSeconds }) => (high - low) * (1 / riseSeconds + 1 / fallSeconds),
  );
  const mean = rates.reduce((sum, rate) => sum + rate, 0) / rates.length;
  const variance = rates.reduce((sum, rate) => sum + (rate - mean) ** 2, 0) / (rates.length - 1);
  return success({
    powerOverCapacity: mean,
    standardError: Math.sqrt(variance / rates.length),
    cycles: rates.length,
  });
}

export interface CapacityRatio {
  /** Heat capacity now over that of the reference: below 1 when wax is missing. */
  readonly ratio: number;
  /** Expanded (k = 2). */
  readonly uncertainty: number;
}

/**
 * Heat capacity now against a time when the pot was known to be full; the heater must be the same.
 * @throws RangeError for rates that are not above 0 and finite
 */
export function heatCapacityRatio(full: ThermalRates, now: ThermalRates): CapacityRatio {
  for (const { powerOverCapacity, standardError } of [full, now])
    if (!isWithin(powerOverCapacity, Number.MIN_VALUE) || !isWithin(standardError, 0))
      throw new RangeError(`heatCapacityRatio: ${powerOverCapacity} ± ${standardError} K/s`);
  const ratio = full.powerOverCapacity / now.powerOverCapacity;
  const relative = Math.hypot(
    full.standardError / full.powerOverCapacity,
    now.standardError / now.powerOverCapacity,
  );
  return { ratio, uncertainty: 2 * ratio * relative };
}

export interface PotContents {
  /** W. */
  readonly heaterPower: number;
  /** Heat capacity of the empty pot, J/K. */
  readonly emptyCapacity: number;
  /** Of the molten wax, J/(kg K). */
  readonly waxHeatCapacity: number;
}

/** Grams of wax, from the heater's power; never below 0. The power on the label is the weakest figure. */
export function waxGrams(rates: ThermalRates, pot: PotContents): Result<number> {
  const { heaterPower, emptyCapacity, waxHeatCapacity } = pot;
  if (
    !(heaterPower > 0 && emptyCapacity >= 0 && waxHeatCapacity > 0) ||
    !(rates.powerOverCapacity > 0) ||
    !Number.isFinite(heaterPower + emptyCapacity + waxHeatCapacity)
  )
    return failure('bad-pot', {}, `${heaterPower} W, ${emptyCapacity} J/K, ${waxHeatCapacity} J/(kg K)`);
  const kilograms = (heaterPower / rates.powerOverCapacity - emptyCapacity) / waxHeatCapacity;
  return success(Math.max(0, kilograms * 1000));
}
