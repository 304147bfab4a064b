// The lab's side of its group: follows the setting, connects and ends, and reports its state. The lab works whole
// without it; nothing here holds up a commit or an alarm.

import type { GroupLinkStatus } from '../../lab/group/group-link.ts';
import type { GroupLinkTable } from '../../lab/group/group-link-table.ts';
import { readOffers } from '../../lab/group/group-offer.ts';
import type { GroupOfferTable } from '../../lab/group/group-offer-table.ts';
import { reasonOf } from '../../wax/problem-error.ts';
import type { Problem } from '../../wax/result.ts';
import { problem } from '../../wax/result.ts';
import type { LabChange } from '../published.ts';
import { type GroupConnection, openGroupConnection } from './group-connection.ts';
import { GroupQueue, type GroupSource } from './group-queue.ts';

export interface GroupReporting {
  readonly status: () => GroupLinkStatus;
  readonly stop: () => Promise<void>;
}

interface State {
  state: GroupLinkStatus['state'];
  since: GroupLinkStatus['since'];
  problem: Problem | null;
}

export function startGroupReporting(
  source: GroupSource,
  table: GroupLinkTable,
  offers: GroupOfferTable,
  subscribe: (listener: (change: LabChange) => void) => () => void,
): GroupReporting {
  const queue = new GroupQueue(source, table, offers);
  let connection: GroupConnection | null = null;
  let deliveredAt: GroupLinkStatus['deliveredAt'] = null;
  const now: State = { state: 'off', since: source.now(), problem: null };
  const become = (state: State['state'], reason: Problem | null): void => {
    if (now.state !== state) now.since = source.now();
    now.state = state;
    now.problem = reason;
  };

  let offersProblem: Problem | null = null;
  const takeOffers = (site: string, payload: Uint8Array): void => {
    const received = readOffers(payload, site);
    offersProblem = received === null || received.refused > 0 ? problem('group-offers-not-understood') : null;
    if (received === null) return;
    try {
      offers.take(received.offers, source.now());
    } catch (error) {
      offersProblem = problem('group-offers-unread', { reason: reasonOf(error) });
    }
  };

  let followed = table.setting();
  const follow = (): void => {
    const ending = connection?.stop() ?? Promise.resolve();
    connection = null;
    const link = table.setting();
    offersProblem = null;
    if (!link.isOn || link.url !== followed.url || link.user !== followed.user) offers.leave();
    followed = link;
    if (!link.isOn) {
      become('off', null);
      return;
    }
    queue.begin();
    become('unreachable', problem('group-broker-unreachable', { reason: 'not connected yet' }));
    const { id } = source.repository.lab().site;
    // The same client id twice would throw the first one out.
    void ending.then(() => {
      if (table.setting() !== link || connection !== null || isStopped) return;
      connection = openGroupConnection(id, link, queue, {
        connected: () => become('connected', null),
        unreachable: (reason) => become('unreachable', reason),
        trouble: (reason) => become(now.state, reason),
        delivered: () => {
          deliveredAt = source.now();
          now.problem = null;
        },
        offered: (payload) => takeOffers(id, payload),
        offersRefused: (reason) => {
          offersProblem = problem('group-offers-unread', { reason });
        },
      });
    });
  };

  let isStopped = false;
  const unsubscribe = subscribe((change) => {
    if (!table.setting().isOn) return;
    if (change.kind === 'statuses' || change.kind === 'alarm') queue.standingChanged();
    if (change.kind === 'lab') queue.labChanged();
    if (change.kind === 'alarm') connection?.wake();
  });
  const unfollow = table.onChange(follow);
  const endOffers = offers.onChange(() => connection?.wake());
  follow();
  return {
    status: () => ({
      ...now,
      problem: now.problem ?? offersProblem,
      deliveredAt,
      waitingMinutes: table.waitingMinutes(),
      waitingAlarmChanges: queue.waitingAlarmChanges(),
    }),
    stop: async () => {
      isStopped = true;
      unsubscribe();
      unfollow();
      endOffers();
      await connection?.stop();
    },
  };
}
