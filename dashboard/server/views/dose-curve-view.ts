// The course of a charge as it crosses the wire, from the means that the store keeps of its pot.

import { bucketPlan } from '../../../collector/store/bucket-width.ts';
import { chargeCourse } from '../../../lab/charge-course.ts';
import type { Charge } from '../../../lab/charge.ts';
import { chargesWaxClass, stationLimits } from '../../../lab/limits.ts';
import { epochMillis, MILLIS_PER_SECOND } from '../../../wax/units.ts';
import type { DoseCurveView } from '../../api/charges.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import { stationSeries } from '../../queries/station-series.ts';
import { iso, isoOrNull } from '../../../wax/iso.ts';

/** A week in spans of about ten minutes. */
const MEANS = 1000;
const CURVE_POINTS = 200;

export const doseCurveView = async (running: RunningLab, charge: Charge): Promise<DoseCurveView> => {
  const lab = running.lab();
  const wax = chargesWaxClass(charge, lab);
  const station = lab.stations.find(({ id }) => id === charge.station);
  const from = epochMillis(Date.parse(charge.startedAt));
  const end = charge.endedAt === null ? running.now() : epochMillis(Date.parse(charge.endedAt));
  const to = epochMillis(Math.max(end, from + MILLIS_PER_SECOND));
  const buckets =
    station === undefined ? [] : await stationSeries(running, station, { from, to, points: MEANS });
  const course = chargeCourse({
    charge,
    means: buckets.map(({ at, mean }) => ({ at, celsius: mean })),
    spanSeconds: (bucketPlan({ from, to, points: MEANS })?.width ?? 0) / MILLIS_PER_SECOND,
    wax,
    windowLow: station === undefined ? null : (stationLimits(station, lab).windowLow?.value ?? null),
    site: lab.site,
    now: end,
  });
  const every = Math.max(1, Math.ceil(course.curve.length / CURVE_POINTS));
  return {
    allowanceEquivalentHours: wax.doseAllowance.value,
    allowanceStanding: wax.doseAllowance.standing,
    curve: course.curve
      .filter((_, index) => index % every === 0 || index === course.curve.length - 1)
      .map(({ at, hours }) => ({ at: iso(at), hours })),
    spentAt: charge.endedAt === null ? isoOrNull(course.spentAt) : null,
    cooler: course.cooler,
    outsideHours: course.outsideHours,
  };
};
