// Mean kinetic temperature by the formula of Haynes, J Pharm Sci 60:927, 1971, as USP <1160> has it, with
// activation energy over gas constant = 10 000 K. Values computed in double precision from the formula.

import { expect, it } from 'vitest';
import {
  meanKineticTemperature,
  PHARMACOPOEIA_ACTIVATION_ENERGY,
} from '../../wax/heat/mean-kinetic-temperature.ts';
import { ABSOLUTE_ZERO_CELSIUS, GAS_CONSTANT } from '../../wax/units.ts';

const within = 0.001;
const wave = Array.from({ length: 24 }, (_, hour) => ({
  celsius: 25 + 5 * Math.sin((2 * Math.PI * hour) / 24),
}));

it.each([
  ['23 and 25 °C, the worked example of a pharmacopoeia', [{ celsius: 23 }, { celsius: 25 }], 24.05315],
  ['25 °C throughout', [{ celsius: 25 }, { celsius: 25 }, { celsius: 25 }], 25],
  ['20 and 40 °C, equally long', [{ celsius: 20 }, { celsius: 40 }], 34.3579],
  [
    '20 °C for 23 h and 40 °C for 1 h',
    [
      { celsius: 20, weight: 23 },
      { celsius: 40, weight: 1 },
    ],
    22.4479,
  ],
  [
    '25 °C for 29 d and 40 °C for 1 d',
    [
      { celsius: 25, weight: 29 },
      { celsius: 40, weight: 1 },
    ],
    26.113,
  ],
  [
    '5 °C for 90 and 15 °C for 10 parts',
    [
      { celsius: 5, weight: 90 },
      { celsius: 15, weight: 10 },
    ],
    6.7261,
  ],
  ['a day about 25 °C with an amplitude of 5 °C', wave, 25.6479],
  [
    '70 °C for 8 h and 90 °C for 1 h',
    [
      { celsius: 70, weight: 8 },
      { celsius: 90, weight: 1 },
    ],
    74.3645,
  ],
])('The mean kinetic temperature of %s is right to 0.001 °C', (_, values, expected) => {
  const result = meanKineticTemperature(values);
  expect(result.ok && Math.abs(result.value - expected)).toBeLessThan(within);
});

it('The exponents of the worked example, with its old 273.1 offset, are those printed with it', () => {
  // 23 and 25 °C: -33.77237419790611 and -33.545790003354576, in an article quoting a pharmacopoeia's formula.
  const kelvins = PHARMACOPOEIA_ACTIVATION_ENERGY / GAS_CONSTANT;
  expect(kelvins).toBeCloseTo(10_000, 9);
  expect(-kelvins / (23 + 273.1)).toBeCloseTo(-33.77237419790611, 10);
  expect(-kelvins / (25 + 273.1)).toBeCloseTo(-33.545790003354576, 10);
  expect(ABSOLUTE_ZERO_CELSIUS).toBe(-273.15);
});
