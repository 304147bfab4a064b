// What is kept of a pot's day at work when it has gone cold.

import { noteMove, topsOfDay } from '../../measures/set-point.ts';
import type { TenMinutes } from '../../measures/ten-minutes.ts';
import type { StationMemory } from '../state/memory.ts';

/** What people were called for at work is called anew on the next day only if it went further overnight. */
export function keepAnnounced({ band, conditions }: StationMemory): void {
  const drift = conditions['probe-drift'];
  if (band !== null && drift?.phase === 'on' && drift.evidence.how === 'working')
    band.reference = noteMove(band.reference, Number(drift.evidence.value_celsius));
}

/** A day that was too short says nothing of where its tops stood; nor does the one before it any more. */
export function keepDay({ band }: StationMemory, closed: readonly TenMinutes[], since: number): void {
  if (band === null) return;
  const day = topsOfDay(band, closed, since);
  if (day !== undefined) band.day = day;
  else if (band.day !== undefined) delete band.day;
}
