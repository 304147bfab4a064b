// Whom a step of the plan means at an instant, and from when on an alarm of a priority may be sent.

import { isOpen, isShortBreak, nextOpening } from '../../../lab/calendar.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { NotificationPlan, NotifiedGroup } from '../../../lab/notification-plan.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { Alarm } from '../../watch/life/alarm.ts';
import type { Priority } from '../../watch/rule/priority.ts';
import { isAbsent, onDuty } from './on-duty.ts';

/** Managers who are there; when none is, all of them: an alarm must never end with nobody. */
function managers(plan: NotificationPlan, lab: Lab, at: EpochMillis): readonly string[] {
  const all = lab.people.filter(({ role }) => role === 'manager').map(({ id }) => id);
  const present = all.filter((id) => !isAbsent(plan, lab, id, at));
  return present.length > 0 ? present : all;
}

export function recipientsOf(
  group: NotifiedGroup,
  plan: NotificationPlan,
  lab: Lab,
  at: EpochMillis,
): readonly string[] {
  if (group === 'managers') return managers(plan, lab, at);
  if (plan.rota === null) {
    const able = lab.people.filter(({ role }) => role !== 'viewer').map(({ id }) => id);
    const present = able.filter((id) => !isAbsent(plan, lab, id, at));
    return present.length > 0 ? present : managers(plan, lab, at);
  }
  const person = onDuty(plan, lab, at)[group === 'on-duty' ? 0 : 1];
  return person === undefined ? managers(plan, lab, at) : [person];
}

/** By its rule nothing is harmed before the morning. */
export const canWait = ({ evidence }: Pick<Alarm, 'evidence'>): boolean => evidence.urgency === 'can-wait';

/**
 * By its rule it cannot wait, whatever its usual priority: people are called as by one of high priority. One of low
 * priority calls nobody.
 */
const callsAs = ({ evidence, priority }: Pick<Alarm, 'priority' | 'evidence'>): Priority =>
  priority === 'medium' && evidence.urgency === 'now' ? 'high' : priority;

/** By its rule it is enough that it is on the screens and on the night sheet. */
const isNote = ({ evidence }: Pick<Alarm, 'evidence'>): boolean => evidence.urgency === 'note';

/**
 * Whether people may be notified of the alarm at the instant. A lunch break is no time to wait: whoever is at lunch is
 * awake and near.
 */
export function mayNotify(
  alarm: Pick<Alarm, 'priority' | 'evidence'>,
  plan: NotificationPlan,
  lab: Lab,
  at: EpochMillis,
): boolean {
  if (isNote(alarm)) return false;
  const waits = canWait(alarm);
  const wakes = (plan.outsideHours as readonly Priority[]).includes(callsAs(alarm)) && !waits;
  return wakes || isOpen(lab.site, at) || (!waits && isShortBreak(lab.site, at));
}

/** The instant itself, or the next opening; null when the lab never opens, or nobody is notified of it. */
export function notifyFrom(
  alarm: Pick<Alarm, 'priority' | 'evidence'>,
  plan: NotificationPlan,
  lab: Lab,
  at: EpochMillis,
): EpochMillis | null {
  if (isNote(alarm)) return null;
  return mayNotify(alarm, plan, lab, at) ? at : nextOpening(lab.site, at);
}
