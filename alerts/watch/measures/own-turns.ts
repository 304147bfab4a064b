// Tops beyond the usual ones at which a heater turned by itself, below its ceiling and again and again: they are no fault.
// A climb that goes on does not turn, and one that goes further each time is not learned.

import type { HeaterBand } from './heater-band.ts';

/** So many turns beyond the usual top, none of them led by a climb, are where it turns now and then. */
const TURNS_BEYOND = 3;
/** Kelvins beyond the usual top that are no turn of their own, and by which the newest may lie above those before it. */
const BEYOND_LEAST = 0.3;

/**
 * Takes in a top beyond the usual ones at which the heater turned by itself: when some have come and the newest is not
 * the highest, they are no fault, and the highest of them is its usual top of late.
 * @param highest a turn above this one is no matter of course, °C
 */
export function learnTurn(band: HeaterBand, highest: number): void {
  const { usual } = band;
  const cycle = band.cycles.at(-1);
  if (usual === null || cycle === undefined) return;
  const width = Math.max(1, usual.high - usual.low);
  const isOwn = cycle.low > usual.low - width && cycle.high < highest;
  if (!isOwn || cycle.high <= usual.top + BEYOND_LEAST) return;
  const tops = [...(band.beyond ?? []), cycle.high].slice(-TURNS_BEYOND);
  const before = Math.max(...tops.slice(0, -1));
  const isKnown = tops.length === TURNS_BEYOND && cycle.high <= before + BEYOND_LEAST;
  if (isKnown) usual.top = Math.max(...tops);
  band.beyond = isKnown ? [] : tops;
}
