// A line of the outbox in words for one reader: a short title, what happened, what to do. Names of cases stand in it
// only for who allowed them on the lock screen.

import type { Lab } from '../../../lab/lab.ts';
import type { Person } from '../../../lab/person.ts';
import type { Alarm } from '../../watch/life/alarm.ts';
import { type AlarmText, alarmText, hiddenText, LOCALES } from '../words/alarm-text.ts';
import type { OutboxRow } from '../outbox/outbox-row.ts';
import { NOTICE_WORDS } from './notice-words.ts';

export interface NoticeText {
  readonly title: string;
  readonly text: string;
  readonly action: string;
  readonly caution: string;
}

const GROUP_LINES = 5;

const fill = (template: string, places: Readonly<Record<string, string | number>>): string =>
  template.replace(/\{(\w+)\}/g, (whole, name: string) => String(places[name] ?? whole));

/** The alarm as this person may see it where others can look on. */
function discreet(alarm: Alarm, lab: Lab, person: Person): Alarm {
  if (person.namesOnLockScreen) return alarm;
  const { pattern } = NOTICE_WORDS[person.language];
  const names = new Set(lab.patterns.flatMap((one) => [one.id, one.caseReference]));
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
  new Intl.DateTimeFormat(LOCALES[language], {
    ...{ hour: '2-digit', minute: '2-digit' },
    hourCycle,
    timeZone: lab.site.timeZone,
  }).format(at);

/** In the order in which one hides the other. */
const putAsideHow = (alarm: Alarm): 'outOfService' | 'suppressed' | 'shelved' => {
  if (alarm.outOfService) return 'outOfService';
  return alarm.suppressedBy === null ? 'shelved' : 'suppressed';
};

export function noticeText(
  row: Pick<OutboxRow, 'kind' | 'body' | 'isRepeat'>,
  lab: Lab,
  person: Person,
  openCount: number,
): NoticeText {
  const words = NOTICE_WORDS[person.language];
  const repeat = row.isRepeat ? ` ${words.repeat}` : '';
  const plain = { action: '', caution: '' };
  const { alarm } = row.body;
  if (row.kind === 'group') {
    const all = row.body.grouped ?? [];
    const lines = all
      .slice(0, GROUP_LINES)
      .map((one) => alarmText(discreet(one, lab, person), lab, person).message);
    if (all.length > GROUP_LINES) lines.push(fill(words.groupMore, { count: all.length - GROUP_LINES }));
    return { ...plain, title: fill(words.group, { count: all.length }), text: lines.join('\n') + repeat };
  }
  if (row.kind === 'test') return { ...plain, title: words.testTitle, text: words.test + repeat };
  if (alarm === null)
    return {
      ...plain,
      title: fill(words.heartbeatTitle, { lab: lab.site.name }),
      text: fill(words.heartbeat, { count: openCount }) + repeat,
    };
  const shown = discreet(alarm, lab, person);
  const told: AlarmText = alarmText(shown, lab, person);
  const places = {
    place: placeOf(shown, lab),
    by: row.body.by ?? alarm.acknowledgedBy ?? '–',
    until: alarm.shelvedUntil === null ? '' : clockTime(alarm.shelvedUntil, lab, person),
    why: hiddenText(alarm.suppressedBy, person.language),
    priority: words.priority[alarm.priority],
  };
  const calls = row.kind === 'raised' || row.kind === 'still-open';
  const title = {
    raised: words.raised,
    'still-open': words.stillOpen,
    cleared: words.cleared,
    acknowledged: words.acknowledged,
    'put-aside': words[putAsideHow(alarm)],
    heartbeat: words.raised,
  }[row.kind];
  return {
    title: fill(title, places),
    text: told.message + repeat,
    action: calls && told.action !== '' ? fill(words.do, { action: told.action }) : '',
    caution: calls ? told.caution : '',
  };
}
