// Whether a heater that seems to cycle holds still when nobody works at it: then its swings are those of the work, and its
// control is proportional.

import { MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { HeaterBand, UsualBand } from './heater-band.ts';
import type { TenMinutes } from './ten-minutes.ts';

/** It holds still while it stays within this share of its usual band. */
export const STILL_SHARE = 0.4;
/** Of the band, by which it may rest beyond it: work only takes it down. */
const EDGE_SHARE = 0.2;
/** For so long, and so many of its usual periods. */
const LEAST_MILLIS = 20 * MILLIS_PER_MINUTE;
const LEAST_PERIODS = 1.5;
/** It is known to rest for so long: a weekend and a holiday. Common practice. */
const KNOWN_MILLIS = 10 * 24 * 60 * MILLIS_PER_MINUTE;

/** Takes in ten minutes that are over. */
export function stillStep(
  band: HeaterBand,
  { at, high, low }: Pick<TenMinutes, 'at' | 'high' | 'low'>,
): void {
  const { still, usual } = band;
  if (usual === null) return;
  const run = {
    since: still?.since ?? at,
    low: Math.min(low, still?.low ?? low),
    high: Math.max(high, still?.high ?? high),
  };
  if (isStill(run, usual)) {
    band.still = run;
    return;
  }
  if (still !== undefined && at - still.since >= leastMillis(usual)) band.movedAt = at;
  const own = { since: at, low, high };
  if (isStill(own, usual)) band.still = own;
  else delete band.still;
}

const isStill = (run: { readonly low: number; readonly high: number }, { high, low }: UsualBand): boolean =>
  run.low >= low - EDGE_SHARE * (high - low) &&
  run.high <= high + EDGE_SHARE * (high - low) &&
  run.high - run.low < STILL_SHARE * (high - low);

const leastMillis = ({ fallSeconds, riseSeconds }: UsualBand): number =>
  Math.max(LEAST_MILLIS, LEAST_PERIODS * 1000 * (riseSeconds + fallSeconds));

/** Whether it has held still of late and moved again since. */
export const isKnownToRest = ({ movedAt }: HeaterBand, at: number): boolean =>
  movedAt !== undefined && at - movedAt < KNOWN_MILLIS;
