// A number from a probe as degrees Celsius, or why it can be none. The bounds are wide: whether a possible value
// is a likely one is judged later, and nothing hot is thrown away for being hot.

import { failure, type Result, success } from '../../wax/result.ts';
import { type Celsius, celsius } from '../../wax/units.ts';

/** Below any probe of this trade; type K thermocouples end at 1372 °C (IEC 60584-1), the widest range in use. */
const LOWEST_CELSIUS = -100;
const HIGHEST_CELSIUS = 1372;
/** What common one-wire libraries answer when the probe does not; common practice, it is no code of the chip. */
const DISCONNECTED_CELSIUS = -127;

export const temperature = (value: number): Result<Celsius> => {
  if (value === DISCONNECTED_CELSIUS) return failure('probe-disconnected', {}, value);
  if (!(value >= LOWEST_CELSIUS && value <= HIGHEST_CELSIUS))
    return failure('out-of-range', { least_celsius: LOWEST_CELSIUS, most_celsius: HIGHEST_CELSIUS }, value);
  return success(celsius(value));
};
