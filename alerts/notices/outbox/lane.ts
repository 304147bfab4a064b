// Lanes of an address: what is in one lane goes in order, what is in another waits for nothing of it. Urgent notices
// wait for each other neither; those that fall due in the same instant go as one message. Pure.

import type { Alarm } from '../../watch/life/alarm.ts';
import type { RowKind } from './outbox-row.ts';

export const URGENT_LANE = 'urgent';
export const PLAIN_LANE = '';

/** Notices that need somebody to act. */
const CALLS: readonly RowKind[] = ['raised', 'still-open'];
/** Notices with something new about an alarm, which may come in numbers; the others follow one of these. */
export const isFirstNotice = (kind: RowKind): boolean => isCall(kind) || kind === 'learned';
export const isCall = (kind: RowKind): boolean => CALLS.includes(kind);

/** Rows that were gathered over time into one message. */
const GROUP = 'group.';
/** Urgent rows that fell due in the same instant and were sent as one message. */
const TOGETHER = 'together.';

export const groupLane = (key: string): string => GROUP + key;
export const togetherLane = (firstNumber: number): string => TOGETHER + firstNumber;
export const isGroup = (lane: string): boolean => lane.startsWith(GROUP);
export const isBundle = (lane: string): boolean => isGroup(lane) || lane.startsWith(TOGETHER);

/** What lies in it was urgent when it was added. */
export const isUrgentLane = (lane: string): boolean => lane === URGENT_LANE || lane.startsWith(TOGETHER);

/** Machines take every change of an urgent alarm in the urgent lane, people what they are to act on. */
export const isUrgent = (
  kind: RowKind,
  alarm: Pick<Alarm, 'priority'> | null,
  person: string | null,
): boolean => alarm?.priority === 'urgent' && (person === null || isCall(kind));

/** Under which a phone shows a row: its alarm, or the message in which it went with others. */
export const tagOf = ({ lane, topic }: { readonly lane: string; readonly topic: string }): string =>
  isBundle(lane) ? lane : topic;
