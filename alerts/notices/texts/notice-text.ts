// A line of the outbox in words for one reader: a short title, what happened, what to do. Names of cases stand in it
// only for those who allowed them on the lock screen.

import type { Lab } from '../../../lab/lab.ts';
import type { Person } from '../../../lab/person.ts';
import { localeOf, type Say, sayTo } from '../../../words/load-languages.ts';
import type { Alarm } from '../../watch/life/alarm.ts';
import type { OutboxRow } from '../outbox/outbox-row.ts';
import { alarmText, suppressionText } from './alarm-text.ts';

export interface NoticeText {
  readonly title: string;
  readonly text: string;
  /** Empty where nothing is to be done. */
  readonly action: string;
  readonly caution: string;
}

const GROUP_LINES = 5;

/** The alarm as this person may see it where others can look on. */
function discreet(alarm: Alarm, lab: Lab, person: Person, say: Say): Alarm {
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

const placeOf = (alarm: Alarm, lab: Lab): string =>
  lab.stations.find(({ id }) => id === alarm.subject)?.name ??
  lab.stations.find(({ id }) => id === alarm.evidence.station)?.name ??
  (alarm.subject === 'site' ? lab.site.name : alarm.subject);

/** Nobody may put an alarm aside for longer than a shift, so the day need not be said. */
const clockTime = (at: number, lab: Lab, { language, hourCycle }: Person): string =>
  new Intl.DateTimeFormat(localeOf(language), {
    hour: '2-digit',
    minute: '2-digit',
    hourCycle,
    timeZone: lab.site.timeZone,
  }).format(at);

/** In the order in which one hides the other. */
const suppressedHow = (alarm: Alarm): 'out-of-service' | 'suppressed' | 'shelved' => {
  if (alarm.outOfService) return 'out-of-service';
  return alarm.suppressedBy === null ? 'shelved' : 'suppressed';
};

const alarmNotice = (row: NoticeRow, alarm: Alarm, lab: Lab, person: Person, say: Say): NoticeText => {
  const shown = discreet(alarm, lab, person, say);
  const { message, action, caution } = alarmText(shown, lab, person);
  const callsForAction = row.kind === 'raised' || row.kind === 'still-open';
  const titles = {
    raised: 'raised',
    'still-open': 'still-open',
    cleared: 'cleared',
    acknowledged: 'acknowledged',
    'put-aside': suppressedHow(alarm),
    learned: 'learned',
  } as const;
  const title = row.kind in titles ? titles[row.kind as keyof typeof titles] : 'raised';
  return {
    title: say(`notice.${title}`, {
      place: placeOf(shown, lab),
      by: row.body.by ?? alarm.acknowledgedBy ?? '–',
      until: alarm.shelvedUntil === null ? '' : clockTime(alarm.shelvedUntil, lab, person),
      why: suppressionText(alarm.suppressedBy, person.language),
      priority: alarm.priority,
    }),
    text: message,
    action: callsForAction && action !== '' ? say('notice.action', { action }) : '',
    caution: callsForAction ? caution : '',
  };
};

const groupNotice = (alarms: readonly Alarm[], lab: Lab, person: Person, say: Say): NoticeText => {
  const lines = alarms
    .slice(0, GROUP_LINES)
    .map((alarm) => alarmText(discreet(alarm, lab, person, say), lab, person).message);
  const more = alarms.length - lines.length;
  return {
    title: say('notice.group', { count: alarms.length }),
    text: [...lines, ...(more > 0 ? [say('notice.group-more', { count: more })] : [])].join('\n'),
    action: '',
    caution: '',
  };
};

type NoticeRow = Pick<OutboxRow, 'kind' | 'body' | 'isRepeat'>;

/** @param openCount alarms that are open now, for the morning message */
export function noticeText(row: NoticeRow, lab: Lab, person: Person, openCount: number): NoticeText {
  const say = sayTo(person, lab.site.timeZone);
  const { alarm, grouped } = row.body;
  const withoutAction = (title: string, text: string): NoticeText => ({
    title,
    text,
    action: '',
    caution: '',
  });
  const plain = (): NoticeText => {
    if (row.kind === 'group') return groupNotice(grouped ?? [], lab, person, say);
    if (row.kind === 'test') return withoutAction(say('notice.test-title'), say('notice.test'));
    if (alarm !== null) return alarmNotice(row, alarm, lab, person, say);
    return withoutAction(
      say('notice.heartbeat-title', { lab: lab.site.name }),
      say('notice.heartbeat', { count: openCount }),
    );
  };
  const notice = plain();
  return row.isRepeat ? { ...notice, text: `${notice.text} ${say('notice.repeat')}` } : notice;
}
