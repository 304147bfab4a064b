// Flow at a temperature: the band that the limits of the class leave, in percent. Flow never falls when it gets
// warmer, so a least flow holds above its temperature and a most flow below. Where the limits leave it open the
// band stays open; nothing is drawn between two limits.

import { isTemperature } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';
import type { Celsius } from '../units.ts';
import type { FlowLimit, WaxClass } from '../classes/wax-properties.ts';
import type { WaxValue } from '../classes/wax-value.ts';

export interface FlowBand {
  /** Percent; null where the limits leave the band open. */
  readonly atLeast: WaxValue | null;
  readonly atMost: WaxValue | null;
}

/** @throws RangeError for what is no temperature; check what comes from outside with `checkedFlowBand` */
export const flowBand = (wax: WaxClass, celsius: Celsius, test: FlowLimit['test'] = 'flow'): FlowBand => {
  if (!isTemperature(celsius)) throw new RangeError(`flowBand: ${celsius} °C`);
  let atLeast: WaxValue | null = null;
  let atMost: WaxValue | null = null;
  for (const limit of wax.flow) {
    if (limit.test !== test) continue;
    if (limit.atLeast && limit.celsius <= celsius && limit.atLeast.value > (atLeast?.value ?? -1)) {
      atLeast = limit.atLeast;
    }
    if (limit.atMost && limit.celsius >= celsius && limit.atMost.value < (atMost?.value ?? Infinity)) {
      atMost = limit.atMost;
    }
  }
  return { atLeast, atMost };
};

/** `flowBand` for a plain number from outside. */
export const checkedFlowBand = (
  wax: WaxClass,
  celsius: number,
  test: FlowLimit['test'] = 'flow',
): Result<FlowBand> =>
  isTemperature(celsius)
    ? success(flowBand(wax, celsius as Celsius, test))
    : failure('not-a-temperature', {}, celsius);
