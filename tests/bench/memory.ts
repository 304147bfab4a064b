// Whether what the watch remembers of a lab grows: its state as JSON, as it is stored, after a month and after a year of
// work. The peer is the same after the first month; nothing but what is learned once may have come.

import type { WatchState } from '../../alerts/watch/engine/memory.ts';
import { waxWatch } from '../../alerts/watch/wax-watch.ts';
import { dayOfWork, WORKING_LAB } from './year/days-of-work.ts';

const MONTH_DAYS = 30;
const YEAR_DAYS = 365;

export async function run(): Promise<void> {
  let state: WatchState = waxWatch.initial();
  const bytesAfter = new Map<number, number>();
  for (let day = 1; day <= YEAR_DAYS; day += 1) {
    state = waxWatch.stepAll(state, dayOfWork(day - 1), WORKING_LAB).state;
    if (day === MONTH_DAYS || day === YEAR_DAYS)
      bytesAfter.set(day, Buffer.byteLength(JSON.stringify(state)) / WORKING_LAB.stations.length);
  }
  const [month, year] = [bytesAfter.get(MONTH_DAYS) ?? 0, bytesAfter.get(YEAR_DAYS) ?? 0];
  console.log(
    JSON.stringify({
      name: 'watch-memory',
      value: Math.round(year),
      unit: 'bytes of JSON a station after a year',
      peer: 'after the first month',
      peer_value: Math.round(month),
      ratio: year / month,
      n: WORKING_LAB.stations.length,
      note: `a pot, an annealer, a bath and a shelf, a reading a minute`,
    }),
  );
}
