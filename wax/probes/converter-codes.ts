// Raw codes of the usual converters for thermocouples and platinum: the bits of a word as the data sheets lay them out,
// its fault bits as refusals. Sources: the makers' data sheets of MAX31855, MAX31856 and MAX31865 (from memory, each row
// of their tables verified by arithmetic).

import { isWithin } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';
import type { Celsius } from '../units.ts';
import { type ThermocoupleType, thermocoupleCelsius } from './thermocouple.ts';

const isWord = (code: number, bits: number): boolean =>
  Number.isInteger(code) && isWithin(code, 0, 2 ** bits - 1);
const notAWord = (code: number, bits: number): Result<never> =>
  failure('bad-register-code', { most: 2 ** bits - 1 }, code);

/** Two's complement of so many bits. */
const toSigned = (code: number, bits: number): number => (code >= 2 ** (bits - 1) ? code - 2 ** bits : code);

export interface ThermocoupleCode {
  /** Hot junction as the converter gives it. */
  readonly celsius: Celsius;
  readonly coldJunction: Celsius;
}

const QUARTER = 2 ** -2;
const SIXTEENTH = 2 ** -4;
const FAULTS_31855 = [
  [1, 'open'],
  [2, 'short_to_ground'],
  [4, 'short_to_supply'],
] as const;

/**
 * The 32-bit word of a MAX31855: hot junction in quarters, cold junction in sixteenths of a kelvin.
 * @example max31855(0x01901900) // 25 °C at a cold junction of 25 °C
 */
export function max31855(code: number): Result<ThermocoupleCode> {
  if (!isWord(code, 32)) return notAWord(code, 32);
  const fault = FAULTS_31855.find(([bit]) => (code & bit) !== 0)?.[1];
  if (fault !== undefined || (code & 0x10000) !== 0)
    return failure('converter-fault', { fault: fault ?? 'unnamed' });
  return success({
    celsius: (toSigned(code >>> 18, 14) * QUARTER) as Celsius,
    coldJunction: (toSigned((code >>> 4) & 0xfff, 12) * SIXTEENTH) as Celsius,
  });
}

/** Of 24 bits the lowest five mean nothing. */
const UNUSED_31856 = 32;
const STEP_31856 = 2 ** -7;

/**
 * The linearised hot junction of a MAX31856: 24 bits of its three registers, 1/128 kelvin.
 * @example max31856(0x064f00) // 100.9375 °C
 */
export function max31856(code: number): Result<Celsius> {
  if (!isWord(code, 24)) return notAWord(code, 24);
  return success((Math.floor(toSigned(code, 24) / UNUSED_31856) * STEP_31856) as Celsius);
}

/** A converter of 15 bits against its reference resistor. */
const RATIO_CODES = 2 ** 15;

/**
 * Ohms of a code of 15 bits, as MAX31865 measures against its reference resistor. Nought and the highest code are no
 * measurement but a wire that is shorted or broken.
 * @example ratioOhms(8192, 400) // 100 Ω, 0 °C on a Pt100
 */
export function ratioOhms(code: number, referenceOhms: number): Result<number> {
  if (!isWord(code, 15)) return notAWord(code, 15);
  if (!isWithin(referenceOhms, Number.MIN_VALUE)) return failure('not-a-resistance', {}, referenceOhms);
  if (code === 0) return failure('converter-fault', { fault: 'short' });
  if (code === RATIO_CODES - 1) return failure('converter-fault', { fault: 'open' });
  return success((code * referenceOhms) / RATIO_CODES);
}

/** The 16-bit register of a MAX31865: the code and, in its lowest bit, whether a fault is kept. */
export function max31865(register: number, referenceOhms: number): Result<number> {
  if (!isWord(register, 16)) return notAWord(register, 16);
  return (register & 1) === 1
    ? failure('converter-fault', { fault: 'unnamed' })
    : ratioOhms(register >> 1, referenceOhms);
}

/** Millivolts per kelvin that a MAX31855 takes a thermocouple to give everywhere. */
const STRAIGHT: Readonly<Record<ThermocoupleType, number>> = { K: 0.041276, T: 0.05218 };

/**
 * The hot junction by the reference function instead of the straight line of a MAX31855.
 * @example max31855Linearised('K', { celsius: 69.75, coldJunction: 25 }) // about 69.9 °C
 */
export const max31855Linearised = (
  type: ThermocoupleType,
  { celsius, coldJunction }: ThermocoupleCode,
): Result<Celsius> => thermocoupleCelsius(type, (celsius - coldJunction) * STRAIGHT[type], coldJunction);
