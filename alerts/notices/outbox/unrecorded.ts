// A notice that goes out although nothing can be written down: once to each phone, mail, webhook and lamp, without a row
// in the outbox, so that a full disk does not keep people from learning of it. Who sends it sends it again while it lasts.

import type { Lab } from '../../../lab/lab.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { Alarm } from '../../watch/life/alarm.ts';
import { type Reach, rowsForMachines, rowsForPeople } from './address-rows.ts';
import { PLAIN_LANE } from './lane.ts';
import type { Channel, NewRow } from './outbox-row.ts';
import type { Send } from './runner.ts';

export type UnrecordedKind = 'raised' | 'still-open' | 'cleared';

/** Everybody who may act on an alarm, whoever is on duty: nobody else is notified of anything meanwhile. */
export function unrecordedRows(
  kind: UnrecordedKind,
  alarm: Alarm,
  at: EpochMillis,
  lab: Lab,
  reach: Reach,
): readonly NewRow[] {
  const people = lab.people.filter(({ role }) => role !== 'viewer').map(({ id }) => id);
  const key = `${alarm.id}.${kind}.${at}`;
  const change = kind === 'cleared' ? 'cleared' : kind === 'raised' ? 'raised' : 'raised-again';
  return [
    ...rowsForPeople({ key, kind, at, people, alarm }, lab, reach, at),
    ...rowsForMachines({ kind: change, at, by: null, reason: null, alarm }, lab, reach, at),
  ];
}

/** Resolves when each was tried; one that fails does not keep the others. */
export async function sendUnrecorded(
  rows: readonly NewRow[],
  senders: Readonly<Record<Channel, Send>>,
): Promise<void> {
  const tries = rows.map(async (row) =>
    senders[row.channel]({
      rows: [
        {
          ...row,
          number: 0,
          lane: PLAIN_LANE,
          state: 'sending',
          attempts: 0,
          endedAt: null,
          isRepeat: false,
          answer: null,
        },
      ],
      tag: row.topic,
      replaces: [],
      rest: [],
    }),
  );
  await Promise.allSettled(tries);
}
