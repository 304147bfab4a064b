// One alarm of a message in words: its title, what happened, what to do. What is past is worded as past.

import type { Lab } from '../../../lab/lab.ts';
import type { Person } from '../../../lab/person.ts';
import { localeOf, type Say } from '../../../words/load-languages.ts';
import type { Alarm } from '../../watch/life/alarm.ts';
import { isCall, isUrgent } from '../outbox/lane.ts';
import type { OutboxRow } from '../outbox/outbox-row.ts';
import { alarmText, suppressionText } from './alarm-text.ts';
import type { NoticeText } from './notice-parts.ts';

export interface RowOfAlarm {
  readonly row: Pick<OutboxRow, 'kind' | 'body'>;
  readonly alarm: Alarm;
}

export interface NoticeWords {
  readonly lab: Lab;
  readonly person: Person;
  readonly say: Say;
}

/** The alarm as this person may see it where others can look on. */
export function hideCaseNames(alarm: Alarm, { lab, person, say }: NoticeWords): Alarm {
  if (person.namesOnLockScreen) return alarm;
  const pattern = say('notice.pattern');
  const names = new Set(lab.patterns.flatMap(({ id, caseReference }) => [id, caseReference]));
  const evidence = Object.fromEntries(
    Object.entries(alarm.evidence).map(([key, value]) => [
      key,
      key.startsWith('case') || (typeof value === 'string' && names.has(value)) ? pattern : value,
    ]),
  );
  return { ...alarm, evidence, ...(alarm.subjectKind === 'pattern' && { subject: pattern }) };
}

export const placeOf = (alarm: Alarm, lab: Lab): string =>
  lab.stations.find(({ id }) => id === alarm.subject)?.name ??
  lab.stations.find(({ id }) => id === alarm.evidence.station)?.name ??
  (alarm.subject === 'site' ? lab.site.name : alarm.subject);

/** Nobody may shelve an alarm for longer than a shift, so the day need not be named. */
const clockTime = (at: number, lab: Lab, { language, hourCycle }: Person): string =>
  new Intl.DateTimeFormat(localeOf(language), {
    hour: '2-digit',
    minute: '2-digit',
    hourCycle,
    timeZone: lab.site.timeZone,
  }).format(at);

/** In the order in which one hides the other. */
const suppressionOf = (alarm: Alarm): 'out-of-service' | 'suppressed' | 'shelved' => {
  if (alarm.outOfService) return 'out-of-service';
  return alarm.suppressedBy === null ? 'shelved' : 'suppressed';
};

export function titleOf({ row, alarm }: RowOfAlarm, place: string, words: NoticeWords): string {
  const { lab, person, say } = words;
  const titles = {
    raised: 'raised',
    'still-open': 'still-open',
    cleared: 'cleared',
    acknowledged: 'acknowledged',
    'put-aside': suppressionOf(alarm),
    learned: 'learned',
  } as const;
  const title = row.kind in titles ? titles[row.kind as keyof typeof titles] : 'raised';
  return say(`notice.${title}`, {
    place,
    by: row.body.by ?? alarm.acknowledgedBy ?? '–',
    until: alarm.shelvedUntil === null ? '' : clockTime(alarm.shelvedUntil, lab, person),
    why: suppressionText(alarm.suppressedBy, person.language),
    priority: alarm.priority,
  });
}

export const actionOf = (action: string, say: Say): string =>
  action === '' ? '' : say('notice.action', { action });

/** @param of the alarm as it is, names of cases included */
export function alarmNotice({ row, alarm }: RowOfAlarm, words: NoticeWords): NoticeText {
  const { lab, person, say } = words;
  const shown = hideCaseNames(alarm, words);
  const { message, action, caution } = alarmText(shown, lab, person);
  const asks = isCall(row.kind) || row.kind === 'learned';
  const was = (clearedAt: number): string =>
    say('notice.was', {
      raised_at: alarm.raisedAt,
      cleared_at: clearedAt,
      message: alarmText({ ...shown, tense: 'now' }, lab, person).message,
    });
  return {
    title: titleOf({ row, alarm: shown }, placeOf(shown, lab), words),
    text: row.kind === 'cleared' && alarm.clearedAt !== null ? was(alarm.clearedAt) : message,
    action: asks ? actionOf(action, say) : '',
    caution: isCall(row.kind) ? caution : '',
    isUrgent: isUrgent(row.kind, alarm, person.id),
  };
}
