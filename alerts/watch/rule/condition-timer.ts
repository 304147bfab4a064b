// On-delay and off-delay of a condition, by sample time: it begins when it held for the on-delay and ends when it
// was gone beyond the deadband for the off-delay. What is between limit and deadband neither begins nor ends it.
// Sample time and not time of arrival, or a replayed backlog would raise and clear wrongly.

import { type EpochMillis, epochMillis } from '../../../wax/units.ts';
import type { Evidence, Reported } from './finding.ts';

/** The condition holds: the numbers behind it, and how bad it is where a worse one is worth reporting. */
export interface Holding {
  /** Asked for only where it is recorded: what costs something to put together may be a getter. */
  readonly evidence: Evidence;
  readonly worst?: number;
  /** Since when the evidence itself shows that it holds, epoch milliseconds; absent: since it was first seen. */
  readonly since?: number;
}

/** `gone`: not so, beyond the deadband. `between`: inside the deadband. `unknown`: cannot be judged, wait. */
export type Evaluation = Holding | 'gone' | 'between' | 'unknown';

/** Plain JSON; a quiet rule has none, so that it costs nothing to keep. */
export type Condition =
  | { readonly phase: 'pending'; readonly since: EpochMillis; readonly samples: number }
  | {
      readonly phase: 'on';
      readonly since: EpochMillis;
      readonly tense: Reported['tense'];
      /** Of the worst so far. */
      readonly evidence: Evidence;
      readonly worst: number;
      /** How bad it was when it was last reported; absent: as bad as `worst`. */
      readonly reportedWorst?: number;
      /** Since when it is gone; null while it holds. */
      readonly goneSince: EpochMillis | null;
      /** It is learned, and people were notified of it before it came to an end. */
      readonly isAnnounced?: boolean;
    };

export interface ConditionTimes {
  readonly onDelayMillis: number;
  readonly offDelayMillis: number;
  /** Readings in a row in which it must hold, whatever the delay. */
  readonly fewestSamples: number;
  /** A holding condition is reported anew when it got worse by this; Infinity for never. */
  readonly updateStep: number;
}

export interface ConditionMoment {
  readonly at: EpochMillis;
  readonly tense: Reported['tense'];
  /** The samples before were too long ago for the time between to count as held. */
  readonly afterGap: boolean;
  /** Readings that bear the value out, this one included; absent: one. */
  readonly samples?: number;
}

export interface ConditionStep {
  readonly state: Condition | null;
  readonly reported: null | Reported;
}

const QUIET: ConditionStep = { state: null, reported: null };

export function conditionStep(
  state: Condition | null,
  evaluation: Evaluation,
  moment: ConditionMoment,
  times: ConditionTimes,
): ConditionStep {
  if (state === null && (evaluation === 'gone' || evaluation === 'between')) return QUIET;
  if (evaluation === 'unknown') return { state, reported: null };
  if (state?.phase === 'on') return whileOn(state, evaluation, moment, times);
  if (evaluation === 'gone' || evaluation === 'between') return QUIET;
  const seenSince = epochMillis(Math.min(evaluation.since ?? moment.at, moment.at));
  const since = state === null || moment.afterGap ? seenSince : state.since;
  const samples = (state === null || moment.afterGap ? 0 : state.samples) + (moment.samples ?? 1);
  if (moment.at - since < times.onDelayMillis || samples < times.fewestSamples)
    return { state: { phase: 'pending', since, samples }, reported: null };
  const { evidence, worst = 0 } = evaluation;
  return {
    state: { phase: 'on', since, tense: moment.tense, evidence, worst, goneSince: null },
    reported: { phase: 'begins', tense: moment.tense, evidence },
  };
}

function whileOn(
  state: Extract<Condition, { phase: 'on' }>,
  evaluation: Exclude<Evaluation, 'unknown'>,
  moment: ConditionMoment,
  times: ConditionTimes,
): ConditionStep {
  if (evaluation === 'gone') {
    const goneSince = state.goneSince === null || moment.afterGap ? moment.at : state.goneSince;
    if (moment.at - goneSince < times.offDelayMillis)
      return { state: state.goneSince === goneSince ? state : { ...state, goneSince }, reported: null };
    const { tense, evidence, since, worst, reportedWorst = worst } = state;
    const isPast = tense === 'learned' && state.isAnnounced !== true;
    const isWorse = worst > reportedWorst;
    return {
      state: null,
      reported: { phase: 'ends', tense, evidence, ...(isPast && { since }), ...(isWorse && { isWorse }) },
    };
  }
  const back = state.goneSince === null ? state : { ...state, goneSince: null };
  if (evaluation === 'between') return { state: back, reported: null };
  const { worst = 0 } = evaluation;
  if (state.tense === 'learned' && moment.tense === 'now') {
    // A backlog reported it as past; it still holds, so it is reported as present.
    const worse = Math.max(worst, state.worst);
    const { evidence } = evaluation;
    return {
      state: { ...back, tense: 'now', evidence, worst: worse },
      reported: { phase: 'begins', tense: 'now', evidence },
    };
  }
  const { reportedWorst = state.worst } = state;
  // Of what is past, people learn the worst at once, when it is over.
  if (state.tense === 'now' && worst >= reportedWorst + times.updateStep) {
    const { evidence } = evaluation;
    return {
      state: { ...back, evidence, worst, reportedWorst: worst },
      reported: { phase: 'updates', tense: 'now', evidence },
    };
  }
  // Reported in steps, so that nobody is called for a tenth of a degree; kept to the tenth, because the record states it.
  const isWorst = worst > state.worst;
  return {
    state: isWorst ? { ...back, evidence: evaluation.evidence, worst, reportedWorst } : back,
    reported: null,
  };
}
