// Every unit that the project uses, as zero-cost brands with one checked constructor each.
// A temperature and a temperature difference are two types: 30 °C is not "30 °C warmer".
// Constructors throw RangeError, because a bad number here is a bug of ours; input from the world is checked
// with `checkedCelsius` and its like, which answer a Result.

declare const unit: unique symbol;
type Quantity<Name extends string> = number & { readonly [unit]: Name };

export type Celsius = Quantity<'celsius'>;
export type CelsiusDifference = Quantity<'celsius difference'>;
export type Kelvin = Quantity<'kelvin'>;
export type Seconds = Quantity<'seconds'>;
/** Milliseconds since 1970-01-01T00:00:00Z. */
export type EpochMillis = Quantity<'epoch milliseconds'>;
export type Micrometres = Quantity<'micrometres'>;
export type Millimetres = Quantity<'millimetres'>;
/** Length change over length, without unit; 0.001 is 0.1 %. */
export type Strain = Quantity<'strain'>;
export type JoulesPerMole = Quantity<'joules per mole'>;
/** Hours at a reference temperature that age the wax as much as the real history did. */
export type EquivalentHours = Quantity<'equivalent hours'>;
/** 0 to 1. */
export type Fraction = Quantity<'fraction'>;

/** 0 K; exact by the definition of the Celsius scale. */
export const ABSOLUTE_ZERO_CELSIUS = -273.15;
/** Molar gas constant, J/(mol K), CODATA 2018, exact. */
export const GAS_CONSTANT = 8.31446261815324;

export const MILLIS_PER_SECOND = 1000;
export const MILLIS_PER_MINUTE = 60_000;
export const MILLIS_PER_HOUR = 3_600_000;
export const MILLIS_PER_DAY = 86_400_000;
export const SECONDS_PER_HOUR = 3600;

const finite =
  <Q extends number>(name: string, least = -Infinity, most = Infinity) =>
  (value: number): Q => {
    if (!Number.isFinite(value) || value < least || value > most)
      throw new RangeError(`${name}: ${value} is not a finite number from ${least} to ${most}`);
    return value as Q;
  };

export const celsius = finite<Celsius>('celsius', ABSOLUTE_ZERO_CELSIUS);
export const celsiusDifference = finite<CelsiusDifference>('celsiusDifference');
export const kelvin = finite<Kelvin>('kelvin', 0);
export const seconds = finite<Seconds>('seconds');
export const epochMillis = finite<EpochMillis>('epochMillis', -8.64e15, 8.64e15);
export const micrometres = finite<Micrometres>('micrometres');
export const millimetres = finite<Millimetres>('millimetres');
export const strain = finite<Strain>('strain');
export const joulesPerMole = finite<JoulesPerMole>('joulesPerMole');
export const equivalentHours = finite<EquivalentHours>('equivalentHours', 0);
export const fraction = finite<Fraction>('fraction', 0, 1);

export const celsiusToFahrenheit = (value: Celsius): number => value * 1.8 + 32;
export const celsiusDifferenceToFahrenheit = (value: CelsiusDifference): number => value * 1.8;
