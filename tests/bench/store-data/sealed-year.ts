// A data folder with a year of thirty probes in it, as it is when every day has been sealed. Packs are written straight
// to their tables, by the product's own coding: to go through the journal would take hours.

import { packChunk, SERIES_A_PACK } from '../../../collector/store/series-tables.ts';
import { openPackTables } from '../../../collector/store/pack-tables.ts';
import { hourFigures } from '../../../collector/store/sealed/hour-figures.ts';
import { encodePack, type PackSeries } from '../../../collector/store/sealed/pack.ts';
import type { LabDatabase } from '../../../lab/database/database.ts';
import { MILLIS_PER_DAY } from '../../../wax/units.ts';
import { labWeek, STEP_MILLIS } from './lab-week.ts';

const STEPS_A_DAY = MILLIS_PER_DAY / STEP_MILLIS;

/** The store was opened on the database before. `start` is a midnight of UTC; returns how many readings it wrote. */
export async function fillSealedDays(database: LabDatabase, start: number, days: number): Promise<number> {
  const tables = openPackTables(database.writer);
  const add = database.writer.prepare<[string]>('INSERT INTO series (probe) VALUES (?)');
  const probes = labWeek(start, 'gateway').map((probe) => ({
    ...probe,
    id: Number(add.run(probe.probe).lastInsertRowid),
  }));
  let readings = 0;
  for (let day = 0; day < days; day += 1) {
    const from = day * STEPS_A_DAY;
    const all: PackSeries[] = probes.map(({ id, at, celsius }) => ({
      series: id,
      times: Float64Array.from({ length: STEPS_A_DAY }, (_, step) => at(from + step)),
      values: Float64Array.from({ length: STEPS_A_DAY }, (_, step) => celsius(from + step)),
      qualities: new Uint8Array(STEPS_A_DAY),
    }));
    const span = { start: start + day * MILLIS_PER_DAY, end: start + (day + 1) * MILLIS_PER_DAY };
    for (const chunk of new Set(all.map(({ series }) => packChunk(series)))) {
      const members = all.filter(({ series }) => packChunk(series) === chunk);
      if (members.length > SERIES_A_PACK) throw new Error('a pack is too large');
      const pack = await encodePack(members);
      database.transaction(() => {
        tables.addPack({ ...span, ...pack, chunk });
        for (const rows of members)
          tables.setHours({ ...span, series: rows.series, hours: hourFigures(rows) });
      });
    }
    readings += all.length * STEPS_A_DAY;
  }
  return readings;
}
