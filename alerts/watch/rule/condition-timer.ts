// On-delay and off-delay of a condition, by sample time: it begins when it held for the on-delay and ends when it
// was gone beyond the deadband for the off-delay. What is between limit and deadband neither begins nor ends it.
// Sample time and not time of arrival, or a replayed backlog would raise and clear wrongly.

import type { EpochMillis } from '../../../wax/units.ts';
import type { Evidence, Finding } from './finding.ts';

/** The condition holds: the numbers behind it, and how bad it is where a worse one is worth telling. */
export interface Holding {
  readonly evidence: Evidence;
  readonly worst?: number;
}

/** `gone`: not so, beyond the deadband. `between`: inside the deadband. `unknown`: cannot be judged, wait. */
export type Look = Holding | 'gone' | 'between' | 'unknown';

/** Plain JSON; null while nothing is up, so that a quiet rule costs nothing to keep. */
export type ConditionState =
  | null
  | { readonly phase: 'pending'; readonly since: EpochMillis }
  | {
      readonly phase: 'on';
      readonly since: EpochMillis;
      readonly tense: Finding['tense'];
      readonly evidence: Evidence;
      readonly worst: number;
      /** Since when it is gone; null while it holds. */
      readonly goneSince: EpochMillis | null;
    };

export interface ConditionTimes {
  readonly onDelayMillis: number;
  readonly offDelayMillis: number;
  /** A holding condition is told anew when it got worse by this; Infinity for never. */
  readonly updateStep: number;
}

export interface ConditionMoment {
  readonly at: EpochMillis;
  readonly tense: Finding['tense'];
  /** The samples before were too long ago for the time between to count as held. */
  readonly afterGap: boolean;
}

export interface ConditionStep {
  readonly state: ConditionState;
  readonly told: null | Pick<Finding, 'phase' | 'tense' | 'evidence'>;
}

const QUIET: ConditionStep = { state: null, told: null };

export function conditionStep(
  state: ConditionState,
  look: Look,
  moment: ConditionMoment,
  times: ConditionTimes,
): ConditionStep {
  if (state === null && (look === 'gone' || look === 'between')) return QUIET;
  if (look === 'unknown') return { state, told: null };
  if (state?.phase === 'on') return whileOn(state, look, moment, times);
  if (look === 'gone' || look === 'between') return QUIET;
  const since = state === null || moment.afterGap ? moment.at : state.since;
  if (moment.at - since < times.onDelayMillis) return { state: { phase: 'pending', since }, told: null };
  const { evidence, worst = 0 } = look;
  return {
    state: { phase: 'on', since, tense: moment.tense, evidence, worst, goneSince: null },
    told: { phase: 'begins', tense: moment.tense, evidence },
  };
}

function whileOn(
  state: Extract<ConditionState, { phase: 'on' }>,
  look: Exclude<Look, 'unknown'>,
  moment: ConditionMoment,
  times: ConditionTimes,
): ConditionStep {
  if (look === 'gone') {
    const goneSince = state.goneSince === null || moment.afterGap ? moment.at : state.goneSince;
    if (moment.at - goneSince < times.offDelayMillis)
      return { state: state.goneSince === goneSince ? state : { ...state, goneSince }, told: null };
    return { state: null, told: { phase: 'ends', tense: state.tense, evidence: state.evidence } };
  }
  const back = state.goneSince === null ? state : { ...state, goneSince: null };
  if (look === 'between') return { state: back, told: null };
  const { evidence, worst = 0 } = look;
  if (state.tense === 'learned' && moment.tense === 'now') {
    // A backlog told it as past; it still holds, so it is told as present.
    const worse = Math.max(worst, state.worst);
    return {
      state: { ...back, tense: 'now', evidence, worst: worse },
      told: { phase: 'begins', tense: 'now', evidence },
    };
  }
  if (worst < state.worst + times.updateStep) return { state: back, told: null };
  return {
    state: { ...back, evidence, worst },
    told: { phase: 'updates', tense: state.tense, evidence },
  };
}
