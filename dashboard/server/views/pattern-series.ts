// The temperatures that a pattern went through: those of each place for as long as it lay there. Stays share the
// points by their length, so that a short one at a warm place is not lost beside a long one.

import type { SeriesBucket } from '../../../collector/store/store.ts';
import type { Pattern } from '../../../lab/pattern.ts';
import { type EpochMillis, epochMillis } from '../../../wax/units.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import { stationSeries } from '../../queries/station-series.ts';

export const patternSeries = async (
  running: RunningLab,
  pattern: Pattern,
  span: { readonly from: EpochMillis; readonly to: EpochMillis; readonly points: number },
): Promise<readonly SeriesBucket[]> => {
  const whole = span.to - span.from;
  const series = await Promise.all(
    pattern.stays.map(async (stay) => {
      const station = running.lab().stations.find(({ id }) => id === stay.station);
      const from = epochMillis(Date.parse(stay.from));
      const to = stay.to === null ? span.to : epochMillis(Date.parse(stay.to));
      if (station === undefined || to <= from) return [];
      const points = Math.max(1, Math.floor((span.points * (to - from)) / whole));
      return stationSeries(running, station, { from, to, points });
    }),
  );
  return series.flat();
};
