// Units in which probes send what they measured: temperatures, and the ohms and millivolts of bare sensors.
// SenML has a registry of its own, in which C is the coulomb and F the farad; elsewhere people write units as they like.

import { failure, type Result, success } from '../../wax/result.ts';
import { ABSOLUTE_ZERO_CELSIUS } from '../../wax/units.ts';

/** A value as its format gave it, in the unit in which it is kept. */
export type MeasuredQuantity =
  | { readonly kind: 'celsius'; readonly celsius: number }
  | { readonly kind: 'electrical'; readonly unit: 'Ohm' | 'mV'; readonly value: number };

type Conversion = (value: number) => MeasuredQuantity;

// Kelvin and Fahrenheit to Celsius leave binary noise behind; a billionth of a degree is no measurement.
const celsius = (value: number): MeasuredQuantity => ({
  kind: 'celsius',
  celsius: Math.round(value * 1e9) / 1e9,
});
const CELSIUS: Conversion = (value) => ({ kind: 'celsius', celsius: value });
const KELVIN: Conversion = (value) => celsius(value + ABSOLUTE_ZERO_CELSIUS);
const FAHRENHEIT: Conversion = (value) => celsius((value - 32) / 1.8);
const electrical =
  (unit: 'Ohm' | 'mV', factor: number): Conversion =>
  (value) => ({ kind: 'electrical', unit, value: value * factor });
const OHM = electrical('Ohm', 1);
const MILLIVOLT = electrical('mV', 1);
const VOLT = electrical('mV', 1000);

/** Symbols of the SenML registry (RFC 8428, 12.1; mV by RFC 8798), and Far, which some gateways send. */
export const SENML_UNITS: ReadonlyMap<string, Conversion> = new Map([
  ['Cel', CELSIUS],
  ['K', KELVIN],
  ['Far', FAHRENHEIT],
  ['Ohm', OHM],
  ['V', VOLT],
  ['mV', MILLIVOLT],
]);

/** Spellings in use elsewhere, in lower case and without blanks or dots. */
const SPELLINGS: ReadonlyMap<string, Conversion> = new Map([
  ...['cel', 'c', '°c', '℃', 'degc', 'degreec', 'degreesc', 'celsius', 'degreecelsius', 'degreescelsius'].map(
    (spelling): [string, Conversion] => [spelling, CELSIUS],
  ),
  ...['k', 'kelvin', 'degk'].map((spelling): [string, Conversion] => [spelling, KELVIN]),
  ...['far', 'f', '°f', '℉', 'degf', 'degreef', 'degreesf', 'fahrenheit', 'degreesfahrenheit'].map(
    (spelling): [string, Conversion] => [spelling, FAHRENHEIT],
  ),
  ...['ohm', 'ohms', 'ω', 'Ω'].map((spelling): [string, Conversion] => [spelling.toLowerCase(), OHM]),
  ['kohm', electrical('Ohm', 1000)],
  ['kω', electrical('Ohm', 1000)],
  ...['mv', 'millivolt', 'millivolts'].map((spelling): [string, Conversion] => [spelling, MILLIVOLT]),
  ...['v', 'volt', 'volts'].map((spelling): [string, Conversion] => [spelling, VOLT]),
]);

/** The conversion of a unit as people write it (`°C`, `degF`, `Ohm`); undefined for one that no probe measures in. */
export const findUnit = (unit: string): Conversion | undefined =>
  SPELLINGS.get(unit.toLowerCase().replaceAll(/[\s._]/g, ''));

/**
 * @example inUnit(SENML_UNITS.get('K'), 'K', 'pot-1', 334.65) // 61.5 °C
 */
export function inUnit(
  conversion: Conversion | undefined,
  unit: string | null,
  name: string,
  value: unknown,
): Result<MeasuredQuantity> {
  if (unit === null) return failure('unit-missing', { name });
  if (conversion === undefined) return failure('unit-not-temperature', { name }, unit);
  if (typeof value !== 'number' || !Number.isFinite(value)) return failure('value-not-a-number', { name });
  return success(conversion(value));
}
