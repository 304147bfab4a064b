// A message of the outbox in words for one reader: a short title, what happened, what to do. Names of cases are in it
// only for those who allowed them on the lock screen. What is past is worded as past.

import type { Lab } from '../../../lab/lab.ts';
import type { Person } from '../../../lab/person.ts';
import { sayTo } from '../../../words/load-languages.ts';
import type { OutboxRow } from '../outbox/outbox-row.ts';
import { alarmNotice, type RowOfAlarm } from './alarm-notice.ts';
import type { NoticeText } from './notice-parts.ts';
import { severalNotice } from './several-notice.ts';

type NoticeRow = Pick<OutboxRow, 'channel' | 'kind' | 'body' | 'isRepeat'>;

/** @param openCount alarms that are open now, for the morning message */
export function noticeText(
  { rows, rest }: { readonly rows: readonly NoticeRow[]; readonly rest: readonly NoticeRow[] },
  lab: Lab,
  person: Person,
  openCount: number,
): NoticeText {
  const say = sayTo(person, lab.site.timeZone);
  const withoutAction = (title: string, text: string): NoticeText => ({
    title,
    text,
    action: '',
    caution: '',
    isUrgent: false,
  });
  const plain = (): NoticeText => {
    const [row] = rows;
    if (row?.kind === 'test')
      return withoutAction(say('notice.test-title', { channel: row.channel }), say('notice.test'));
    if (row?.body.account !== undefined) {
      const { what, from } = row.body.account;
      return withoutAction(
        say('notice.account-title', { what, lab: lab.site.name }),
        say('notice.account', { what, name: person.name, from, done_at: row.body.at }),
      );
    }
    const alarm = row?.body.alarm ?? null;
    if (row === undefined || alarm === null)
      return withoutAction(
        say('notice.heartbeat-title', { lab: lab.site.name }),
        say('notice.heartbeat', { count: openCount }),
      );
    const words = { lab, person, say };
    return rows.length === 1 && rest.length === 0
      ? alarmNotice({ row, alarm }, words)
      : severalNotice(rowsWithAlarm(rows), rowsWithAlarm(rest), words);
  };
  const notice = plain();
  return rows.some(({ isRepeat }) => isRepeat)
    ? { ...notice, text: `${notice.text} ${say('notice.repeat')}` }
    : notice;
}

const rowsWithAlarm = (rows: readonly NoticeRow[]): readonly RowOfAlarm[] =>
  rows.flatMap((row) => (row.body.alarm === null ? [] : [{ row, alarm: row.body.alarm }]));
