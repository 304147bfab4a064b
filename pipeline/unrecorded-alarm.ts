// While nothing can be written (a full disk), nothing is judged, and the alarm of it cannot go the way of the
// others, through the journal. It is in memory alone, is shown beside them, and ends when writing goes on.

import { alarmStep, normalAlarm } from '../alerts/watch/life/alarm-step.ts';
import type { Alarm, AlarmChange } from '../alerts/watch/life/alarm.ts';
import { encodeCause } from '../alerts/notices/texts/self-cause.ts';
import type { Problem } from '../wax/result.ts';
import { type EpochMillis, MILLIS_PER_MINUTE, MILLIS_PER_SECOND } from '../wax/units.ts';

/** A disk that is slow for a moment is no full disk. */
const ON_DELAY_MILLIS = 10 * MILLIS_PER_SECOND;
/** People are notified again while it lasts: nothing else can reach them. */
const REPEAT_MILLIS = 10 * MILLIS_PER_MINUTE;

export interface UnrecordedState {
  readonly troubleSince: EpochMillis | null;
  readonly alarm: Alarm | null;
  readonly notifiedAt: EpochMillis | null;
}

export const NOTHING_UNRECORDED: UnrecordedState = { troubleSince: null, alarm: null, notifiedAt: null };

export interface UnrecordedStep {
  readonly state: UnrecordedState;
  /** For the screens. */
  readonly changes: readonly AlarmChange[];
  /** For the people. */
  readonly notice: 'raised' | 'still-open' | 'cleared' | null;
}

const IDENTITY = {
  rule: 'disk-failing',
  subject: 'site',
  subjectKind: 'site',
  priority: 'high',
  latches: false,
} as const;

/** `trouble` is why nothing can be recorded; null when all is written. */
export function unrecordedStep(
  state: UnrecordedState,
  trouble: Problem | null,
  at: EpochMillis,
): UnrecordedStep {
  const { alarm } = state;
  if (trouble === null) return alarm === null ? stayQuiet(NOTHING_UNRECORDED) : endAlarm(alarm, at);
  const troubleSince = state.troubleSince ?? at;
  if (alarm === null) {
    if (at - troubleSince < ON_DELAY_MILLIS) return stayQuiet({ ...state, troubleSince });
    const evidence = { detail: encodeCause({ code: 'part-problems', problems: [trouble] }) };
    const raised = alarmStep(normalAlarm(IDENTITY, at), { type: 'begins', at, tense: 'now', evidence });
    return {
      state: { troubleSince, alarm: raised.alarm, notifiedAt: at },
      changes: raised.changes,
      notice: 'raised',
    };
  }
  if (at - (state.notifiedAt ?? at) < REPEAT_MILLIS) return stayQuiet({ ...state, troubleSince });
  return { state: { ...state, notifiedAt: at }, changes: [], notice: 'still-open' };
}

const stayQuiet = (state: UnrecordedState): UnrecordedStep => ({ state, changes: [], notice: null });

/** Nobody could acknowledge it, so nobody need once it is over: the journal has the alarms of what follows. */
function endAlarm(alarm: Alarm, at: EpochMillis): UnrecordedStep {
  const { changes } = alarmStep({ ...alarm, acknowledged: true }, { type: 'ends', at });
  return { state: NOTHING_UNRECORDED, changes, notice: 'cleared' };
}

export interface UnrecordedParts {
  readonly trouble: () => Problem | null;
  readonly now: () => EpochMillis;
  readonly publish: (change: AlarmChange) => void;
  readonly notify: (kind: NonNullable<UnrecordedStep['notice']>, alarm: Alarm) => void;
}

export interface UnrecordedAlarm {
  readonly open: () => Alarm | null;
  readonly check: () => void;
}

export function openUnrecordedAlarm({ trouble, now, publish, notify }: UnrecordedParts): UnrecordedAlarm {
  let state = NOTHING_UNRECORDED;
  return {
    open: () => state.alarm,
    check: () => {
      const before = state.alarm;
      const step = unrecordedStep(state, trouble(), now());
      state = step.state;
      for (const change of step.changes) publish(change);
      const alarm = step.changes.at(-1)?.alarm ?? state.alarm ?? before;
      if (step.notice !== null && alarm !== null) notify(step.notice, alarm);
    },
  };
}
