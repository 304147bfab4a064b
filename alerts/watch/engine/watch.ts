// The small contract by which the pipeline and the rules meet; cli wires the two.
// A watch is a pure reducer: it takes time from its inputs and never from the machine.

import type { Entry } from '../../../lab/entry.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { Alarm, AlarmChange } from '../life/alarm.ts';
import type { Refusal } from '../life/refusal.ts';
import type { Finding } from '../life/finding.ts';
import type { WatchKey, WatchState } from './state/memory.ts';
import type { StationStatus } from './station-status.ts';

export interface WatchStep {
  readonly state: WatchState;
  /** Keys of the parts that differ from the state before; a part that is gone has no value. */
  readonly changedParts: readonly WatchKey[];
  readonly findings: readonly Finding[];
  readonly alarmChanges: readonly AlarmChange[];
  /** Acts that were refused (for example a reset before acknowledgement), with the reason. */
  readonly refusals: readonly Refusal[];
  /** Of every station that was touched. */
  readonly statuses: readonly StationStatus[];
}

export interface Watch {
  readonly initial: () => WatchState;
  readonly step: (state: WatchState, entry: Entry, lab: Lab) => WatchStep;
  /** The same as stepping the entries one by one, copying the state once. */
  readonly stepAll: (state: WatchState, entries: readonly Entry[], lab: Lab) => WatchStep;
  /**
   * The same for a state that is the caller's alone: it is written in place and becomes that of the step. Of thousands of
   * probes a copy at each arrival costs more than all the rest. When it throws, the state is good for nothing.
   */
  readonly advance: (ownState: WatchState, entries: readonly Entry[], lab: Lab) => WatchStep;
  /** Alarms that are not in state A, newest first. */
  readonly openAlarms: (state: WatchState) => readonly Alarm[];
  /** Of every station of the lab, at this state's own newest instant. */
  readonly statuses: (state: WatchState, lab: Lab) => readonly StationStatus[];
}
