// Who is on duty at an instant: weekly turns that change at the lab's own wall-clock time, absences stepped over.
// Pure; the machine's clock and zone are not read.

import { Temporal } from 'temporal-polyfill';
import type { Lab } from '../../../lab/lab.ts';
import type { Rota, NotificationPlan } from '../../../lab/notification-plan.ts';
import type { EpochMillis } from '../../../wax/units.ts';

const DAYS_PER_WEEK = 7;

const dateAt = (timeZone: string, at: EpochMillis): Temporal.PlainDate =>
  Temporal.Instant.fromEpochMilliseconds(Math.floor(at)).toZonedDateTimeISO(timeZone).toPlainDate();

/** How many whole turns lie before the instant. A handover that the clocks skip is at the instant of the skip. */
export function turnAt(rota: Rota, timeZone: string, at: EpochMillis): number {
  const today = dateAt(timeZone, at);
  const handover = today.toZonedDateTime({ timeZone, plainTime: rota.handoverTime }).epochMilliseconds;
  const day = at < handover ? today.subtract({ days: 1 }) : today;
  return Math.floor(
    Temporal.PlainDate.from(rota.startsOn).until(day, { largestUnit: 'day' }).days / DAYS_PER_WEEK,
  );
}

export function isAbsent(plan: NotificationPlan, lab: Lab, person: string, at: EpochMillis): boolean {
  const today = dateAt(lab.site.timeZone, at).toString();
  return plan.absences.some(
    (absence) => absence.person === person && absence.from <= today && today <= absence.to,
  );
}

/** Ids from the one whose turn it is to the one whose turn is last; who is absent or left the lab is not among them. */
export function onDuty(plan: NotificationPlan, lab: Lab, at: EpochMillis): readonly string[] {
  const { rota } = plan;
  if (rota === null || rota.people.length === 0) return [];
  const turn = turnAt(rota, lab.site.timeZone, at);
  const { length } = rota.people;
  const first = ((turn % length) + length) % length;
  return [...rota.people.slice(first), ...rota.people.slice(0, first)].filter(
    (id) => lab.people.some((person) => person.id === id) && !isAbsent(plan, lab, id, at),
  );
}
