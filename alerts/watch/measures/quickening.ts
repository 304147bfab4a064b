// Whether a pot quickens along a line: with wax going out hour by hour each cycle of its thermostat is somewhat faster
// than those before, while melting makes single ones fast. It needs no day that is known, only the hours before: its
// cycles must have become faster than those ever were.

import { MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import { type HeatCycle, paceOf } from './heater-band.ts';
import { rankOrder } from './rank-order.ts';
import { upperMedian } from './upper-median.ts';

/** Plain JSON, replaced as a whole when a cycle closes. Paces are natural logarithms. */
export interface Quickening {
  /** Fastest pace of the newest cycles while it did not quicken, and the times that this rests on: with none it means nothing. */
  readonly fastest: number;
  readonly learned: number;
  /** How much faster the newest cycles are than those of some hours ago; 0: it does not quicken. */
  readonly by: number;
}

const CYCLES = 14;
/** The first and last ones of them are compared. */
const COMPARED = 4;
/** A longer cycle, or a longer time between two, is a pause or a night. */
const LONGEST_MILLIS = 40 * MILLIS_PER_MINUTE;
const FEWEST_LEARNED = 4;
/** Logarithms; a share of the pairs of cycles: 1 where each is faster than all before, 0 where they are in no order. */
const FASTER = Math.log(1.15);
const BEYOND = Math.log(1.1);
const ORDER = 0.7;

const NEVER: Quickening = { fastest: 0, learned: 0, by: 0 };

/**
 * Takes in the cycle that closed last.
 * @param calm the newest calm ones, oldest first
 */
export function quickeningStep(quickening: Quickening | undefined, calm: readonly HeatCycle[]): Quickening {
  const { by, fastest, learned } = quickening ?? NEVER;
  const cycles = calm.slice(-CYCLES);
  if (!isUnbroken(cycles)) return { fastest, learned, by: 0 };
  const paces = cycles.map(paceOf);
  const newest = upperMedian(paces.slice(-COMPARED));
  const faster = newest - upperMedian(paces.slice(0, COMPARED));
  const isLine = faster > FASTER && rankOrder(paces) > ORDER;
  const isBeyond = learned >= FEWEST_LEARNED && newest - fastest > BEYOND;
  if (isBeyond && (isLine || by > 0)) return { fastest, learned, by: Math.max(faster, newest - fastest) };
  if (faster >= FASTER) return { fastest, learned, by: 0 };
  return { fastest: learned === 0 ? newest : Math.max(fastest, newest), learned: learned + 1, by: 0 };
}

const isUnbroken = (cycles: readonly HeatCycle[]): boolean =>
  cycles.length === CYCLES &&
  cycles.every(
    ({ at, fallSeconds, riseSeconds }, index) =>
      1000 * (riseSeconds + fallSeconds) <= LONGEST_MILLIS &&
      at - (cycles[index - 1]?.at ?? at) <= LONGEST_MILLIS,
  );
