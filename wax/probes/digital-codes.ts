// Register codes of common digital temperature sensors to degrees and back: two's complement in sixteenths of a
// kelvin (one-wire sensors with 9 to 12 bits), and the 16-bit capacitive humidity-and-temperature words that run
// linearly from -45 to 130 °C. Sources: the makers' published register tables (from memory, each row verified by
// arithmetic). A power-on code is named, not hidden: a pot can truly be at 85 °C, so whoever reads decides.

import { isWithin, rowOf } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';
import type { Celsius } from '../units.ts';

export type OneWireBits = 9 | 10 | 11 | 12;

const SIXTEENTH = 1 / 16;
const ONE_WIRE_LEAST = -55;
const ONE_WIRE_MOST = 125;
/** What the register holds before the first conversion: +85 °C. */
const POWER_ON_CODE = 0x0550;

/** Smallest step in kelvins and longest conversion in milliseconds, by resolution. */
export const ONE_WIRE_RESOLUTION: Readonly<Record<OneWireBits, { step: number; conversionMillis: number }>> =
  {
    9: { step: 0.5, conversionMillis: 93.75 },
    10: { step: 0.25, conversionMillis: 187.5 },
    11: { step: 0.125, conversionMillis: 375 },
    12: { step: 0.0625, conversionMillis: 750 },
  };

export interface OneWireReading {
  readonly celsius: Celsius;
  /** The code is also what the sensor holds before it has measured: suspect if the reading stands alone. */
  readonly maybePowerOn: boolean;
}

/** `code` is the 16-bit register, 0 to 0xFFFF; bits that the resolution leaves undefined are cleared. */
export function oneWireCelsius(code: number, bits: OneWireBits = 12): Result<OneWireReading> {
  if (!Number.isInteger(code) || code < 0 || code > 0xffff)
    return failure('bad-register-code', { most: 0xffff }, code);
  const { step } = rowOf(ONE_WIRE_RESOLUTION, bits, 'bits of a register');
  const defined = code & ~(step / SIXTEENTH - 1);
  const celsius = ((defined << 16) >> 16) * SIXTEENTH;
  if (celsius < ONE_WIRE_LEAST || celsius > ONE_WIRE_MOST)
    return failure(
      'outside-probe-range',
      { least_celsius: ONE_WIRE_LEAST, most_celsius: ONE_WIRE_MOST },
      celsius,
    );
  return success({ celsius: celsius as Celsius, maybePowerOn: code === POWER_ON_CODE });
}

/** The nearest code; the inverse of `oneWireCelsius` to half a step. */
export function oneWireCode(celsius: Celsius, bits: OneWireBits = 12): Result<number> {
  if (!isWithin(celsius, ONE_WIRE_LEAST, ONE_WIRE_MOST))
    return failure(
      'outside-probe-range',
      { least_celsius: ONE_WIRE_LEAST, most_celsius: ONE_WIRE_MOST },
      celsius,
    );
  const { step } = rowOf(ONE_WIRE_RESOLUTION, bits, 'bits of a register');
  const sixteenths = Math.round(celsius / step) * (step / SIXTEENTH);
  return success(sixteenths & 0xffff);
}

const WORD_LEAST = -45;
const WORD_SPAN = 175;
const WORD_MOST_CODE = 0xffff;

/** T = -45 + 175 · code/65535. */
export function linearWordCelsius(code: number): Result<Celsius> {
  if (!Number.isInteger(code) || code < 0 || code > WORD_MOST_CODE)
    return failure('bad-register-code', { most: WORD_MOST_CODE }, code);
  return success((WORD_LEAST + (WORD_SPAN * code) / WORD_MOST_CODE) as Celsius);
}

export function linearWordCode(celsius: Celsius): Result<number> {
  if (!isWithin(celsius, WORD_LEAST, WORD_LEAST + WORD_SPAN))
    return failure(
      'outside-probe-range',
      { least_celsius: WORD_LEAST, most_celsius: WORD_LEAST + WORD_SPAN },
      celsius,
    );
  return success(Math.round(((celsius - WORD_LEAST) / WORD_SPAN) * WORD_MOST_CODE));
}
