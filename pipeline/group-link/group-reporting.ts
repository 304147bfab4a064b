// The lab's side of its group: follows the setting, connects and ends, and says how it stands. The lab works whole
// without it; nothing here holds up a commit or an alarm.

import type { GroupLinkStatus } from '../../lab/group-link.ts';
import type { GroupLinkTable } from '../../lab/group-link-table.ts';
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
  subscribe: (listener: (change: LabChange) => void) => () => void,
): GroupReporting {
  const queue = new GroupQueue(source, table);
  let connection: GroupConnection | null = null;
  let deliveredAt: GroupLinkStatus['deliveredAt'] = null;
  const now: State = { state: 'off', since: source.now(), problem: null };
  const become = (state: State['state'], reason: Problem | null): void => {
    if (now.state !== state) now.since = source.now();
    now.state = state;
    now.problem = reason;
  };

  const follow = (): void => {
    const ending = connection?.stop() ?? Promise.resolve();
    connection = null;
    const link = table.setting();
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
  follow();
  return {
    status: () => ({
      ...now,
      deliveredAt,
      waitingMinutes: table.waitingMinutes(),
      waitingAlarmChanges: queue.waitingAlarmChanges(),
    }),
    stop: async () => {
      isStopped = true;
      unsubscribe();
      unfollow();
      await connection?.stop();
    },
  };
}
