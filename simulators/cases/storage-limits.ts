// What is demanded of a place where patterns wait: what is usual, and no more than the place keeps in good order.

import { type Draw, roundTo } from '../draw/draw.ts';
import { patternCelsius, type StorageLimits, spotsOf, swings } from '../harm/storage-harm.ts';
import type { StoragePlan, WorldPlan } from '../world/plan.ts';
import { column, type PlaceRecord } from '../world/record.ts';

/** @param record of the place without any fault. */
export const storageLimits = (
  world: WorldPlan,
  plan: StoragePlan,
  record: PlaceRecord,
  draw: Draw,
): StorageLimits => {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let swing = 0;
  const first = Math.round((world.starts - record.from) / record.stepMillis);
  for (const spot of spotsOf(plan)) {
    const pattern = patternCelsius(record, spot);
    for (let i = first; i < pattern.length; i += 1) {
      low = Math.min(low, pattern[i] ?? low);
      high = Math.max(high, pattern[i] ?? high);
    }
    for (const value of column(swings(world, record, pattern), 'swing')) swing = Math.max(swing, value);
  }
  return {
    low: roundTo(Math.min(plan.usual.low, low - draw.uniform(0.8, 2)), 0.5),
    high: roundTo(Math.max(plan.usual.high, high + draw.uniform(0.8, 2)), 0.5),
    swing: roundTo(Math.max(plan.usual.swing, swing + draw.uniform(0.7, 1.8)), 0.5),
  };
};
