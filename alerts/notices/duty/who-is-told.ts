// Which persons a step of the plan means at an instant, and when an alarm of a priority may be told at all.

import { isOpen, nextOpening } from '../../../lab/calendar.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { NotificationPlan, NotifiedGroup } from '../../../lab/notification-plan.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { Priority } from '../../watch/rule/rule-kind.ts';
import { isAbsent, onDuty } from './on-duty.ts';

/** Managers who are there; when none is, all of them: an alarm must never end with nobody. */
function managers(telling: NotificationPlan, lab: Lab, at: EpochMillis): readonly string[] {
  const all = lab.people.filter(({ role }) => role === 'manager').map(({ id }) => id);
  const there = all.filter((id) => !isAbsent(telling, lab, id, at));
  return there.length > 0 ? there : all;
}

export function whoIsTold(
  group: NotifiedGroup,
  telling: NotificationPlan,
  lab: Lab,
  at: EpochMillis,
): readonly string[] {
  if (group === 'managers') return managers(telling, lab, at);
  if (telling.rota === null) {
    const able = lab.people.filter(({ role }) => role !== 'viewer').map(({ id }) => id);
    const there = able.filter((id) => !isAbsent(telling, lab, id, at));
    return there.length > 0 ? there : managers(telling, lab, at);
  }
  const person = onDuty(telling, lab, at)[group === 'on-duty' ? 0 : 1];
  return person === undefined ? managers(telling, lab, at) : [person];
}

/** The instant itself, or the next opening when this priority wakes nobody; null when the lab never opens. */
export function toldFrom(
  priority: Priority,
  telling: NotificationPlan,
  lab: Lab,
  at: EpochMillis,
): EpochMillis | null {
  const wakes = (telling.outsideHours as readonly Priority[]).includes(priority);
  return wakes || isOpen(lab.site, at) ? at : nextOpening(lab.site, at);
}
