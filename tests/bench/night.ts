// What the night sheet reads from the store for thirty probes and fourteen hours: as it lies on a morning (hours sealed as
// they end), as it lies for good (days sealed) and with all readings fresh, beside one question over bare rows.

import { PLAIN_ENGLISH } from '../../words/quantity.ts';
import { gatherNight } from '../../dashboard/reports/night/gather-night.ts';
import type { Reading } from '../../lab/reading.ts';
import { celsius, epochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR } from '../../wax/units.ts';
import { labForTests } from '../lab-for-tests.ts';
import { labWeek, PROBES, STEP_MILLIS } from './store-data/lab-week.ts';

const ROUNDS = 7;
const HOURS = 14;

const millisOf = async (work: () => unknown): Promise<number> => {
  const begin = performance.now();
  await work();
  return performance.now() - begin;
};
const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0;

export const run = async (): Promise<void> => {
  const lab = labForTests();
  const { running, database } = lab;
  const opens = epochMillis(Math.floor(running.now() / MILLIS_PER_HOUR) * MILLIS_PER_HOUR - MILLIS_PER_HOUR);
  const from = epochMillis(opens - HOURS * MILLIS_PER_HOUR);
  const probes = labWeek(from, 'gateway');
  for (const [number, { probe }] of probes.entries()) {
    const station = `place-${Math.floor(number / 2)}`;
    if (number % 2 === 0)
      running.repository.saveStation({
        id: station,
        name: station,
        kind: number % 4 === 0 ? 'melt-pot' : 'shelf',
        wax: 'inlay-type-2',
      });
    running.repository.saveProbe({
      id: probe,
      station,
      gateway: 'gw-1',
      correction_celsius: 0,
      uncertainty_celsius: 0.5,
    });
  }
  for (let step = 0; step < (HOURS * MILLIS_PER_HOUR) / STEP_MILLIS; step += 720) {
    const readings: Reading[] = [];
    for (let index = step; index < step + 720; index += 1)
      for (const { probe, at, celsius: value } of probes)
        readings.push({ probe, at: epochMillis(at(index)), celsius: celsius(value(index)), quality: 'good' });
    await running.store.apply({ readings, ruleState: {}, alongside: [], offset: running.store.offset() + 1 });
  }
  const night = { date: '2031-03-03', from, opens, hoursKnown: true };
  const gather = () =>
    gatherNight(
      running,
      () => {
        throw new Error('no alarm was raised');
      },
      night,
      PLAIN_ENGLISH,
    );
  const rows = database.reader().prepare(
    `SELECT series, at - at % 300000, min(celsius), max(celsius), avg(celsius), count(*) FROM reading
     WHERE at >= ${from} AND at < ${opens} GROUP BY 1, 2`,
  );
  const measured = {
    fresh: [] as number[],
    bare: [] as number[],
    morning: [] as number[],
    sealed: [] as number[],
  };
  for (let round = 0; round < ROUNDS; round += 1) {
    measured.fresh.push(await millisOf(gather));
    measured.bare.push(await millisOf(() => rows.all()));
  }
  await running.store.tidy(epochMillis(opens + MILLIS_PER_HOUR / 6), () => null);
  for (let round = 0; round < ROUNDS; round += 1) measured.morning.push(await millisOf(gather));
  await running.store.tidy(epochMillis(opens + 2 * MILLIS_PER_DAY), () => null);
  for (let round = 0; round < ROUNDS; round += 1) measured.sealed.push(await millisOf(gather));
  await lab.close();
  for (const kind of ['morning', 'sealed', 'fresh'] as const)
    console.log(
      JSON.stringify({
        name: kind === 'morning' ? 'night' : `night-${kind}`,
        value: Number(median(measured[kind]).toFixed(1)),
        unit: 'ms',
        peer: 'one statement over bare rows, buckets of five minutes',
        peer_value: Number(median(measured.bare).toFixed(1)),
        ratio: median(measured[kind]) / median(measured.bare),
        n: (PROBES * HOURS * MILLIS_PER_HOUR) / STEP_MILLIS,
        note: `median of ${ROUNDS}, ${Math.min(...measured[kind]).toFixed(1)} to ${Math.max(...measured[kind]).toFixed(1)} ms; a smaller ratio is better`,
      }),
    );
};
