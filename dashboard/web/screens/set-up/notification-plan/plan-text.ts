// Days, clock times and people of a plan as this reader reads them.

import type { ReachView, NotificationPlanBody } from '../../../../api/notification-plan.ts';
import { formatDay, formatTime } from '../../../base/format.ts';
import { t, word } from '../../../base/messages.ts';
import { reader } from '../../../live/lab-state.ts';

export type People = readonly ReachView[];

/** Days and times of a plan bear no zone: they are the lab's own, so none may shift them. */
const zoneless = () => ({ ...reader.value, timeZone: 'UTC' });

export const dayText = (day: string): string =>
  Number.isNaN(Date.parse(day)) ? '–' : formatDay(`${day}T12:00:00Z`, zoneless());
export const clockText = (time: string): string =>
  /^\d\d:\d\d$/.test(time) ? formatTime(`2000-01-01T${time}:00Z`, zoneless()) : '–';

export const nameOf = (id: string, people: People): string =>
  people.find((person) => person.id === id)?.name ?? t('notification-plan.left-the-lab', { id });

export const stepText = ({ afterMinutes, who }: NotificationPlanBody['escalation'][number]): string =>
  t(afterMinutes === 0 ? 'notification-plan.step-at-once' : 'notification-plan.step-after', {
    minutes: afterMinutes,
    who: word('notified-group', who),
  });

export const absenceText = (
  { person, from, to }: NotificationPlanBody['absences'][number],
  people: People,
): string =>
  t('notification-plan.absence-line', { name: nameOf(person, people), from: dayText(from), to: dayText(to) });

/** Whether an alarm reaches this person at all. */
export const isReached = (person: ReachView, mailIsSetUp: boolean): boolean =>
  person.phones > 0 || (mailIsSetUp && person.hasEmail && person.mail !== 'never');
