// Whether what the watch remembers of a lab grows: its state as JSON, as it is stored, after a month and after a year of
// work, where the peer is the same after the first month; nothing but what is learned once may have come. Then what is
// resident over thirty simulated days of a lab, and over ten minutes of 10,000 probes (WAXWARDEN_BENCH_SECONDS).

import type { WatchState } from '../../alerts/watch/engine/state/memory.ts';
import { waxWatch } from '../../alerts/watch/wax-watch.ts';
import { tenThousandProbes } from './memory/ten-thousand-probes.ts';
import { thirtyDays } from './memory/thirty-days.ts';
import { dayOfWork, WORKING_LAB } from './year/days-of-work.ts';

const MONTH_DAYS = 30;
const YEAR_DAYS = 365;
const SECONDS = Number(process.env.WAXWARDEN_BENCH_SECONDS ?? 600);

function watchMemory(): void {
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

const AIM_MEGABYTES = 350;

function printResident(name: string, megabytes: readonly number[], from: number, note: string): void {
  const [early, last] = [megabytes[from] ?? 0, megabytes.at(-1) ?? 0];
  const most = Math.max(...megabytes);
  console.log(
    JSON.stringify({
      name,
      value: Math.round(most),
      unit: 'MB resident at most',
      peer: 'aim',
      peer_value: AIM_MEGABYTES,
      ratio: Math.round((most / AIM_MEGABYTES) * 100) / 100,
      n: megabytes.length,
      note: `${note}; ${Math.round(early)} MB early, ${Math.round(last)} MB at the end, every value ${megabytes.map(Math.round).join(' ')}`,
    }),
  );
}

export async function run(): Promise<void> {
  printResident(
    'memory-30-days',
    await thirtyDays(),
    1,
    'four probes, a reading in six seconds, after each day',
  );
  const { megabytes, readings, cores } = await tenThousandProbes(SECONDS);
  const note = `${readings} readings in ${SECONDS} s, ${cores.toFixed(2)} cores, every ten seconds`;
  printResident('memory-10000-probes', megabytes, 5, note);
  watchMemory();
}
