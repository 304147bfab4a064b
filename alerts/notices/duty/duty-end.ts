// Until when those stay on duty who are: the next handover or edge of an absence after which somebody else is. Pure.

import { Temporal } from 'temporal-polyfill';
import type { Lab } from '../../../lab/lab.ts';
import type { NotificationPlan } from '../../../lab/notification-plan.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import { recipientsOf } from './recipients.ts';

/** One more than the longest rota, so that a handover to somebody else is among them. */
const WEEKS_AHEAD = 51;

/** Null when nothing in the plan changes it within a year. */
export function dutyEnd(plan: NotificationPlan, lab: Lab, at: EpochMillis): EpochMillis | null {
  const { timeZone } = lab.site;
  const today = Temporal.Instant.fromEpochMilliseconds(Math.floor(at))
    .toZonedDateTimeISO(timeZone)
    .toPlainDate();
  const instant = (date: Temporal.PlainDate, plainTime: string): EpochMillis =>
    date.toZonedDateTime({ timeZone, plainTime }).epochMilliseconds as EpochMillis;
  const { rota } = plan;
  const handovers: EpochMillis[] = [];
  if (rota !== null) {
    const first = Temporal.PlainDate.from(rota.startsOn);
    const sinceHandover = ((first.until(today, { largestUnit: 'day' }).days % 7) + 7) % 7;
    const last = today.subtract({ days: sinceHandover });
    for (let week = 0; week <= WEEKS_AHEAD; week += 1)
      handovers.push(instant(last.add({ weeks: week }), rota.handoverTime));
  }
  const edges = plan.absences.flatMap(({ from, to }) => [
    instant(Temporal.PlainDate.from(from), '00:00'),
    instant(Temporal.PlainDate.from(to).add({ days: 1 }), '00:00'),
  ]);
  const now = recipientsOf('on-duty', plan, lab, at).join(' ');
  return (
    [...handovers, ...edges]
      .filter((instant) => instant > at)
      .sort((first, second) => first - second)
      .find((instant) => recipientsOf('on-duty', plan, lab, instant).join(' ') !== now) ?? null
  );
}
