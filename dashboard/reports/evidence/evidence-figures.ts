// Readings of one place over a step, in figures: extremes of single readings; mean, mean kinetic temperature and minutes
// from the means of the buckets. Pure.

import type { SeriesBucket } from '../../../collector/store/store.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { EvidenceFigures } from '../../api/evidence.ts';
import { heatFigures, minutesWhere } from '../night/heat-figures.ts';
import type { Step } from './evidence-span.ts';
import type { HeldBounds } from './held-limits.ts';
import { iso } from '../../../wax/iso.ts';

export const evidenceFigures = (
  { buckets, widthMillis }: { readonly buckets: readonly SeriesBucket[]; readonly widthMillis: number },
  { from, to }: Step,
  bounds: (at: EpochMillis) => HeldBounds,
): EvidenceFigures => {
  // A bucket belongs where its middle lies: where days begin at half hours, hours begin before them.
  const middle = widthMillis / 2;
  const own = buckets.filter(({ at }) => at + middle >= from && at + middle < to);
  const { readings, minCelsius, maxCelsius, meanKineticCelsius, gapMinutes } = heatFigures(
    { buckets: own, widthMillis, from, to },
    () => null,
  );
  return {
    from: iso(from),
    to: iso(to),
    readings,
    doubtfulReadings: own.reduce((sum, { doubtful }) => sum + doubtful, 0),
    minCelsius,
    maxCelsius,
    meanCelsius:
      readings === 0 ? null : own.reduce((sum, { mean, count }) => sum + mean * count, 0) / readings,
    meanKineticCelsius,
    minutesBeyond: minutesWhere({ buckets: own, widthMillis, to }, (mean, at) => {
      const { low, high } = bounds(at);
      return (high !== null && mean > high) || (low !== null && mean < low);
    }),
    gapMinutes,
  };
};
