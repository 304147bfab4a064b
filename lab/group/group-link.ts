// How a lab reports to its group: whether, to which broker, and what leaves the lab. Off until a manager switches it on.

import type { Problem } from '../../wax/result.ts';
import type { EpochMillis } from '../../wax/units.ts';

export const GROUP_DETAILS = ['minutes', 'readings'] as const;

export interface GroupLink {
  readonly isOn: boolean;
  /** `mqtts://` or, inside a protected network, `mqtt://`. */
  readonly url: string;
  readonly user: string;
  readonly password: string;
  /** PEM; empty: the authorities that the machine trusts. */
  readonly authority: string;
  /** Figures of each minute, or those and every reading. */
  readonly detail: (typeof GROUP_DETAILS)[number];
  readonly givesCaseReferences: boolean;
  readonly givesNames: boolean;
}

export const NO_GROUP_LINK: GroupLink = {
  isOn: false,
  url: '',
  user: '',
  password: '',
  authority: '',
  detail: 'minutes',
  givesCaseReferences: false,
  givesNames: false,
};

export interface GroupLinkStatus {
  readonly state: 'off' | 'connected' | 'unreachable';
  /** Since when it is in this state. */
  readonly since: EpochMillis;
  /** Why the group does not get it; null while it does. */
  readonly problem: Problem | null;
  /** When the broker last took a message; null since the start. */
  readonly deliveredAt: EpochMillis | null;
  /** Minutes and changes of alarms that have not been delivered. */
  readonly waitingMinutes: number;
  readonly waitingAlarmChanges: number;
}
