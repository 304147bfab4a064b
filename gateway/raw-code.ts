// A raw code of a converter as what it measured. Conversion and fault bits are in wax/probes.

import { max31855, max31855Linearised, max31856, max31865 } from '../wax/probes/converter-codes.ts';
import { failure, type Result, success } from '../wax/result.ts';
import type { Sample } from './sample.ts';

export const CHIPS = ['max31855', 'max31856', 'max31865'] as const;

export interface RawCode {
  readonly chip: (typeof CHIPS)[number];
  /** Of a converter for platinum: its reference resistor. */
  readonly referenceOhms?: number;
  /** Of a converter that takes every thermocouple for a straight line: which one is connected. */
  readonly thermocouple?: 'K' | 'T';
}

type Measured = Pick<Sample, 'unit' | 'value'>;

/**
 * @example codeValue({ chip: 'max31865', referenceOhms: 400 }, 0x4000) // 100 Ω
 */
export function codeValue({ chip, referenceOhms, thermocouple }: RawCode, code: number): Result<Measured> {
  const inUnit = (unit: Measured['unit'], value: Result<number>): Result<Measured> =>
    value.ok ? success({ unit, value: value.value }) : value;
  switch (chip) {
    case 'max31855': {
      const read = max31855(code);
      if (!read.ok) return read;
      return inUnit(
        'Cel',
        thermocouple === undefined
          ? success(read.value.celsius)
          : max31855Linearised(thermocouple, read.value),
      );
    }
    case 'max31856':
      return inUnit('Cel', max31856(code));
    case 'max31865':
      return referenceOhms === undefined
        ? failure('not-a-resistance')
        : inUnit('Ohm', max31865(code, referenceOhms));
  }
}
