// Keeps whether anybody is told, and says it when it changes: nobody, once an open alarm got through to no person;
// somebody, once each of them did or a phone came. The wall speaks for it, because nothing else would reach anyone.

import type { Alarm } from '../../watch/life/alarm.ts';
import { heardOf } from './heard.ts';
import type { Outbox } from './outbox.ts';
import type { OutboxRow } from './outbox-row.ts';

export interface NobodyToldParts {
  readonly outbox: Pick<Outbox, 'toPeople'>;
  /** It still calls for somebody. */
  readonly isOpen: (alarm: string) => boolean;
  readonly say: (isSomebodyTold: boolean, detail: string) => void;
}

export interface NobodyTold {
  /** There was no way at all to the persons of a step; `why` says so. */
  readonly hadNoWay: (alarm: Alarm, why: string) => void;
  /** A line was tried, or its time ran out. */
  readonly tried: (row: OutboxRow, isDelivered: boolean) => void;
  readonly lastPhoneGone: () => void;
  readonly phoneCame: () => void;
}

/** Alarms about the telling itself: the wall shows them, and that they go nowhere says nothing new. */
const ABOUT_TELLING: readonly Alarm['rule'][] = ['channel-failing', 'nobody-subscribed'];
const CALLS: readonly OutboxRow['kind'][] = ['raised', 'still-open', 'group'];

export function nobodyTold({ outbox, isOpen, say }: NobodyToldParts): NobodyTold {
  const unheard = new Set<string>();
  /** Null: not known since the start; the alarm about it may be open from before. */
  let isSomebodyTold: boolean | null = null;
  const sayNow = (somebody: boolean, detail: string): void => {
    if (isSomebodyTold === somebody) return;
    isSomebodyTold = somebody;
    say(somebody, detail);
  };
  const look = (alarm: Alarm, noWay: string): void => {
    if (ABOUT_TELLING.includes(alarm.rule)) return;
    const heard = heardOf(outbox.toPeople(alarm));
    if (heard.kind === 'told') unheard.delete(alarm.id);
    if (heard.kind !== 'nobody' || !isOpen(alarm.id)) return;
    unheard.add(alarm.id);
    sayNow(false, heard.why || noWay);
  };
  return {
    hadNoWay: look,
    tried: (row, isDelivered) => {
      if (row.person === null) return;
      const alarms = row.body.grouped ?? (row.body.alarm === null ? [] : [row.body.alarm]);
      if (CALLS.includes(row.kind)) for (const alarm of alarms) look(alarm, '');
      if (!isDelivered) return;
      for (const alarm of unheard) if (!isOpen(alarm)) unheard.delete(alarm);
      if (unheard.size === 0) sayNow(true, 'a message got through');
    },
    lastPhoneGone: () => sayNow(false, 'the last phone unsubscribed'),
    phoneCame: () => {
      unheard.clear();
      sayNow(true, 'a phone is subscribed');
    },
  };
}
