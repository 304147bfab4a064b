// Days of a small lab: a pot, an annealer and a water bath that are switched on in the morning and cycle under their
// thermostats, and a shelf that follows the room. For what must not grow.

import type { Entry } from '../../../lab/entry.ts';
import type { Lab } from '../../../lab/lab.ts';
import { celsius, epochMillis } from '../../../wax/units.ts';
import { labOf, probeOf } from '../../rehearsal.ts';

const MINUTES_A_DAY = 1440;
const MINUTE_MILLIS = 60_000;
const BEGIN = Date.UTC(2026, 0, 5);
const ROOM_CELSIUS = 21;
const [OPENS_MINUTE, CLOSES_MINUTE] = [7 * 60, 17 * 60];

/** Set temperature, swing of the thermostat and its period; minutes to warm up and to cool by 1/e. */
const HEATERS = {
  pot: { set: 68, swing: 3, period: 24, warms: 40, cools: 90 },
  annealer: { set: 49, swing: 1, period: 16, warms: 25, cools: 60 },
  bath: { set: 52, swing: 0.8, period: 12, warms: 20, cools: 120 },
} as const;

function heaterAt(
  { set, swing, period, warms, cools }: (typeof HEATERS)['pot' | 'annealer' | 'bath'],
  minute: number,
) {
  const rise = set - ROOM_CELSIUS;
  if (minute < OPENS_MINUTE) return ROOM_CELSIUS;
  if (minute >= CLOSES_MINUTE) return ROOM_CELSIUS + rise * Math.exp((CLOSES_MINUTE - minute) / cools);
  const on = minute - OPENS_MINUTE;
  if (on < warms) return ROOM_CELSIUS + (rise * on) / warms;
  const phase = ((on - warms) % period) / period;
  return set + swing * (phase < 0.4 ? phase / 0.4 : (1 - phase) / 0.6) - swing / 2;
}

/** A little of it new with each reading, the same each time. */
const noiseAt = (step: number): number => ((step * 7919) % 101) / 1000 - 0.05;

export const WORKING_LAB: Lab = labOf(
  [
    { id: 'pot', name: 'Pot', kind: 'melt-pot', wax: 'inlay-type-2' },
    { id: 'annealer', name: 'Annealer', kind: 'annealer', wax: 'inlay-type-2' },
    { id: 'bath', name: 'Bath', kind: 'water-bath', wax: 'inlay-type-2' },
    { id: 'shelf', name: 'Shelf', kind: 'shelf', wax: 'inlay-type-2' },
  ],
  ['pot', 'annealer', 'bath', 'shelf'].map((station) => probeOf(`p-${station}`, station)),
);

/** Entries of one day: every so many minutes a tick and a reading of each probe. */
export function dayOfWork(day: number, everyMinutes = 1): readonly Entry[] {
  const entries: Entry[] = [];
  for (let minute = 0; minute < MINUTES_A_DAY; minute += everyMinutes) {
    const receivedAt = epochMillis(BEGIN + (day * MINUTES_A_DAY + minute) * MINUTE_MILLIS);
    const noise = noiseAt(day * MINUTES_A_DAY + minute);
    const shelf = ROOM_CELSIUS + 1.5 * Math.sin((2 * Math.PI * (minute - 540)) / MINUTES_A_DAY);
    const values = { ...mapHeaters(minute), shelf };
    entries.push({ kind: 'tick', receivedAt });
    entries.push({
      kind: 'readings',
      receivedAt,
      gateway: 'g1',
      readings: Object.entries(values).map(([station, value]) => ({
        probe: `p-${station}`,
        at: receivedAt,
        quality: 'good',
        celsius: celsius(value + noise),
      })),
    });
  }
  return entries;
}

const mapHeaters = (minute: number) => ({
  pot: heaterAt(HEATERS.pot, minute),
  annealer: heaterAt(HEATERS.annealer, minute),
  bath: heaterAt(HEATERS.bath, minute),
});
