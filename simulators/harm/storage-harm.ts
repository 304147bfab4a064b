// Harm where patterns wait: a pattern follows its air by some minutes; it may be outside its limits for ten minutes,
// and may not swing by more than its limit within 24 hours.

import { DAY, MINUTE } from '../days/calendar.ts';
import type { StoragePlan, WorldPlan } from '../world/plan.ts';
import { column, type PlaceRecord } from '../world/record.ts';
import { episodes } from './episodes.ts';
import type { Harm } from './harm.ts';

export interface StorageLimits {
  readonly low: number;
  readonly high: number;
  readonly swing: number;
}

const PATTERN_LAG_SECONDS = 600;
const OUTSIDE_MILLIS = 10 * MINUTE;
const SWING_STEP = 5 * MINUTE;

/** Temperature of a pattern in that air. */
export const patternCelsius = (record: PlaceRecord, spot: string): Float32Array => {
  const air = column(record, spot);
  const pattern = new Float32Array(air.length);
  const keep = Math.exp(-record.stepMillis / 1000 / PATTERN_LAG_SECONDS);
  let now = air[0] ?? 20;
  for (let i = 0; i < air.length; i += 1) {
    const around = air[i] ?? now;
    now = around + (now - around) * keep;
    pattern[i] = now;
  }
  return pattern;
};

export const spotsOf = (plan: StoragePlan): readonly string[] => [
  ...new Set(plan.probes.map(({ spot }) => spot)),
];

/** Largest less smallest within the last 24 hours (within the case), at every fifth minute. */
export const swings = (world: WorldPlan, record: PlaceRecord, pattern: Float32Array): PlaceRecord => {
  const count = Math.floor((world.ends - world.starts) / SWING_STEP) + 1;
  const stride = SWING_STEP / record.stepMillis;
  const first = Math.round((world.starts - record.from) / record.stepMillis);
  const at = (k: number) => pattern[Math.min(pattern.length - 1, first + k * stride)] ?? 0;
  const window = DAY / SWING_STEP;
  const values = new Float32Array(count);
  for (let k = 0; k < count; k += 1) {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let j = Math.max(0, k - window); j <= k; j += 1) {
      const value = at(j);
      if (value < low) low = value;
      if (value > high) high = value;
    }
    values[k] = high - low;
  }
  return { station: record.station, from: world.starts, stepMillis: SWING_STEP, spots: { swing: values } };
};

export const storageHarm = (
  world: WorldPlan,
  plan: StoragePlan,
  record: PlaceRecord,
  limits: StorageLimits,
): readonly Harm[] =>
  spotsOf(plan).flatMap((spot) => {
    const pattern = patternCelsius(record, spot);
    const swing = swings(world, record, pattern);
    const swung = column(swing, 'swing');
    const outside = episodes(record, world.starts, world.ends, OUTSIDE_MILLIS, (i) => {
      const celsius = pattern[i] ?? 0;
      return celsius < limits.low || celsius > limits.high;
    });
    const over = episodes(swing, world.starts, world.ends, 0, (i) => (swung[i] ?? 0) > limits.swing);
    return [
      ...outside.map((harm) => ({ ...harm, station: plan.id, kind: 'pattern-outside' as const })),
      ...over.map((harm) => ({ ...harm, station: plan.id, kind: 'pattern-swing' as const })),
    ];
  });
