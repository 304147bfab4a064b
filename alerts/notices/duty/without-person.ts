// The plan once a person has left the lab: a later person who gets the same id must inherit neither turns nor absences. Pure.

import { Temporal } from 'temporal-polyfill';
import type { NotificationPlan, Rota } from '../../../lab/notification-plan.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import { turnAt } from './on-duty.ts';

/** Whose turn it is keeps it, or hands it to the next where it was the one who left. */
function rotaWithout(rota: Rota, timeZone: string, person: string, at: EpochMillis): Rota | null {
  const people = rota.people.filter((id) => id !== person);
  if (people.length === 0) return null;
  if (people.length === rota.people.length) return rota;
  const turn = turnAt(rota, timeZone, at);
  const { length } = rota.people;
  const place = ((turn % length) + length) % length;
  const newPlace = rota.people.slice(0, place).filter((id) => id !== person).length % people.length;
  const startsOn = Temporal.PlainDate.from(rota.startsOn).add({ weeks: turn - newPlace });
  return { ...rota, people, startsOn: startsOn.toString() };
}

/** @param at when the person leaves */
export const withoutPerson = (
  plan: NotificationPlan,
  timeZone: string,
  person: string,
  at: EpochMillis,
): NotificationPlan => ({
  ...plan,
  rota: plan.rota === null ? null : rotaWithout(plan.rota, timeZone, person, at),
  absences: plan.absences.filter((absence) => absence.person !== person),
});
