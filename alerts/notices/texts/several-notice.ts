// Several alarms in one message: every place by name, what to do once for each kind of them, and what is over.

import { PRIORITIES } from '../../watch/rule/priority.ts';
import { isCall, isUrgent } from '../outbox/lane.ts';
import {
  actionOf,
  hideCaseNames,
  type NoticeWords,
  placeOf,
  type RowOfAlarm,
  titleOf,
} from './alarm-notice.ts';
import { alarmText } from './alarm-text.ts';
import type { NoticeText } from './notice-parts.ts';

/** Places that a title names; the text names all. */
const TITLE_PLACES = 3;
const DETAIL_LINES = 5;

interface Placed extends RowOfAlarm {
  readonly place: string;
}

const unique = (texts: readonly string[]): readonly string[] => [
  ...new Set(texts.filter((text) => text !== '')),
];
const placesOf = (all: readonly Placed[]): readonly string[] => unique(all.map(({ place }) => place));
const shortPlaces = (places: readonly string[]): string =>
  places.length <= TITLE_PLACES
    ? places.join(', ')
    : `${places.slice(0, TITLE_PLACES).join(', ')} +${places.length - TITLE_PLACES}`;

const byUrgency = (left: Placed, right: Placed): number =>
  PRIORITIES.indexOf(left.alarm.priority) - PRIORITIES.indexOf(right.alarm.priority) ||
  left.alarm.raisedAt - right.alarm.raisedAt;

function titleOfSeveral(calls: readonly Placed[], ends: readonly Placed[], words: NoticeWords): string {
  const [first] = calls.length > 0 ? calls : ends;
  if (first === undefined) return '';
  const isUniform = (all: readonly Placed[]): boolean =>
    all.every(({ row, alarm }) => row.kind === first.row.kind && alarm.priority === first.alarm.priority);
  const shown = calls.length > 0 ? calls : ends;
  const places = shortPlaces(placesOf(shown));
  if (calls.length > 1 && !(isUniform(calls) && first.alarm.priority === 'urgent'))
    return words.say('notice.group', { count: calls.length, places });
  return titleOf(first, isUniform(shown) ? places : first.place, words);
}

/** @param rest alarms of an earlier message in the same place that still need somebody to act */
export function severalNotice(
  rows: readonly RowOfAlarm[],
  rest: readonly RowOfAlarm[],
  words: NoticeWords,
): NoticeText {
  const { lab, person, say } = words;
  const findPlaces = (all: readonly RowOfAlarm[]): readonly Placed[] =>
    all.map(({ row, alarm }) => {
      const shown = hideCaseNames(alarm, words);
      return { row, alarm: shown, place: placeOf(shown, lab) };
    });
  const calls = [...findPlaces(rows.filter(({ row }) => isCall(row.kind)))].sort(byUrgency);
  const ends = findPlaces(rows.filter(({ row }) => !isCall(row.kind)));
  const others = findPlaces(rest);
  const asking = [...calls, ...others].map(({ alarm }) => ({ alarm, text: alarmText(alarm, lab, person) }));
  const details = asking.slice(0, Math.min(calls.length, DETAIL_LINES)).map(({ text }) => text.message);
  const more = calls.length - details.length;
  return {
    title: titleOfSeveral(calls, ends, words),
    text: [
      ...(calls.length > 1 ? [placesOf(calls).join(', ')] : []),
      ...details,
      ...(more > 0 ? [say('notice.group-more', { count: more })] : []),
      ...ends.map((end) =>
        end.row.kind === 'learned'
          ? alarmText(end.alarm, lab, person).message
          : titleOf(end, end.place, words),
      ),
      ...(others.length > 0 ? [say('notice.also-open', { places: placesOf(others).join(', ') })] : []),
    ].join('\n'),
    action: unique(asking.map(({ text }) => actionOf(text.action, say))).join('\n'),
    caution: unique(asking.map(({ text }) => text.caution)).join('\n'),
    isUrgent: calls.some(({ row, alarm }) => isUrgent(row.kind, alarm, person.id)),
  };
}
