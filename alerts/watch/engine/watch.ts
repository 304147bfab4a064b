// The small contract by which the collector's pipeline and the rules meet; cli wires the two.
// A watch is a pure reducer: it takes time from its inputs and never from the machine.

import type { Entry } from '../../../lab/entry.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { Alarm, AlarmChange } from '../life/alarm.ts';
import type { Finding } from '../rule/finding.ts';
import type { Standing } from './station-status.ts';

/**
 * State is plain JSON, split in parts (one a station, one for the site) so that only what changed is written.
 * Parts are replaced, never mutated.
 */
export type WatchState = Readonly<Record<string, unknown>>;

export interface WatchStep {
  readonly state: WatchState;
  /** Names of the parts that differ from the state before. */
  readonly changedParts: readonly string[];
  readonly findings: readonly Finding[];
  readonly alarmChanges: readonly AlarmChange[];
  /** An act that was refused (for example a reset before acknowledgement), with the reason. */
  readonly refusals: readonly { readonly code: string; readonly message: string }[];
}

export interface Watch {
  readonly initial: () => WatchState;
  readonly step: (state: WatchState, entry: Entry, lab: Lab) => WatchStep;
  /** The same as stepping the entries one by one, copying the state once. */
  readonly stepAll: (state: WatchState, entries: readonly Entry[], lab: Lab) => WatchStep;
  /** Alarms that are not in state A, newest first. */
  readonly openAlarms: (state: WatchState) => readonly Alarm[];
  /** How every station of the lab stands at this state's own newest instant. */
  readonly standings: (state: WatchState, lab: Lab) => readonly Standing[];
}
