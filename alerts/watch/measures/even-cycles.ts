// Whether the cycles of a heater are those of a thermostat that turns it on and off: each is as wide and as long as the
// others, whoever works there. Proportional control swings after a warm-up too, but less each time; and what work alone makes
// is now large and now small.

import { median } from '../../../wax/numbers/median.ts';
import type { HeatCycle } from './heater-band.ts';

const CYCLES = 6;
/** So many of them may be unlike the others: cold wax, a lid. */
const UNLIKE = 1;
/** Of the median: how far width and period of the others lie from it at most. Engineering estimate. */
const WITHIN = 0.25;

/** Of the newest cycles, oldest first. */
export function areEven(cycles: readonly HeatCycle[]): boolean {
  const newest = cycles.slice(-CYCLES);
  const isUsual = [
    isNear(newest, ({ high, low }) => high - low),
    isNear(newest, ({ fallSeconds, riseSeconds }) => riseSeconds + fallSeconds),
  ];
  const alike = newest.filter((cycle) => isUsual.every((isSo) => isSo(cycle)));
  return alike.length >= CYCLES - UNLIKE;
}

function isNear(cycles: readonly HeatCycle[], figureOf: (cycle: HeatCycle) => number) {
  const middle = cycles.length === 0 ? 0 : median(cycles.map(figureOf));
  return (cycle: HeatCycle): boolean => Math.abs(figureOf(cycle) - middle) <= WITHIN * middle;
}
