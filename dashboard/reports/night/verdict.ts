// What the night means for a storage place: a verdict with its reasons. The rules are our own choice (common practice, no
// published limit for stored patterns is known). A pattern has a verdict of its own (lab/patterns/pattern-verdict.ts). They advise;
// whoever signs decides. docs/night-sheet.md explains each.

import type { Say } from '../../../words/load-languages.ts';
import type { Values } from '../../../words/quantity.ts';
import type { HeatFigures, Reason, Verdict } from '../../api/night.ts';

export const REASON_CODES = [
  'softened',
  'no-readings',
  'too-warm',
  'gap',
  'swing',
  'kept-well',
  'left-on',
  'over-ceiling',
  'probe-gap',
  'probe-doubtful',
  'probe-alarm',
  'probe-battery',
  'probe-battery-volts',
] as const;
export type ReasonCode = (typeof REASON_CODES)[number];

export interface JudgedNight {
  readonly verdict: Verdict;
  readonly reasons: readonly Reason[];
}

export interface VerdictReason {
  readonly verdict: Verdict;
  readonly code: ReasonCode;
  readonly values: Values;
}

/** Minutes without knowledge that a verdict bears. Common practice. */
const LONGEST_UNKNOWN_MINUTES = 30;
/** Above its limit for so long a pattern is looked at; the delay of the alarm of the same cause. Common practice. */
const WARM_MINUTES = 10;

/** The reason with its text for a reader. */
export const reasonFor = (say: Say, code: ReasonCode, values: Values): Reason => ({
  code,
  values: { ...values },
  text: say(`reason.${code}`, values),
});

/**
 * What was measured from some time of the night on carries since when: a lab that began then had no outage before. Code and
 * values stay as they are, for they are what is signed.
 */
export const saySinceWhen = (
  reasons: readonly Reason[],
  { gaps, readings }: HeatFigures,
  from: number,
  say: Say,
): readonly Reason[] => {
  const [gap, ...more] = gaps;
  if (gap === undefined || more.length > 0 || readings === 0 || Date.parse(gap.from) !== from) return reasons;
  const text = say('reason.measured-since', { since_at: gap.to });
  return reasons.map((reason) => (/^(probe-)?gap$/.test(reason.code) ? { ...reason, text } : reason));
};

const RANK = { 'may-be-invested': 0, check: 1, remake: 2 } as const;

/** The worst reason gives the verdict; what is less grave is behind it; `well` holds when there is none. */
export const judge = (reasons: readonly VerdictReason[], well: VerdictReason, say: Say): JudgedNight => {
  const ranked = [...(reasons.length > 0 ? reasons : [well])].sort(
    (left, right) => RANK[right.verdict] - RANK[left.verdict],
  );
  return {
    verdict: ranked[0]?.verdict ?? 'check',
    reasons: ranked.map(({ code, values }) => reasonFor(say, code, values)),
  };
};

export interface PlaceLimits {
  /** The warmest that the wax may lie at, °C; null where no wax is named. */
  readonly storageMax: number | null;
  /** Where the wax begins to melt, °C. */
  readonly meltsFrom: number | null;
  /** Peak to peak over a night, °C: that of the rule of the same cause. */
  readonly largestSwing: number;
}

/** How the night was at a place. A place may have softened what lay there; what to do with that is in each pattern's own verdict. */
export const nightReasons = (figures: HeatFigures, limits: PlaceLimits): readonly VerdictReason[] => {
  const { minCelsius, maxCelsius, minutesOutOfBand, gapMinutes } = figures;
  const reasons: VerdictReason[] = [];
  if (minCelsius === null || maxCelsius === null)
    return [{ verdict: 'check', code: 'no-readings', values: {} }];
  if (limits.meltsFrom !== null && maxCelsius >= limits.meltsFrom)
    reasons.push({
      verdict: 'check',
      code: 'softened',
      values: { peak_celsius: maxCelsius, melting_celsius: limits.meltsFrom },
    });
  if (limits.storageMax !== null && minutesOutOfBand >= WARM_MINUTES)
    reasons.push({
      verdict: 'check',
      code: 'too-warm',
      values: { warm_minutes: minutesOutOfBand, limit_celsius: limits.storageMax, peak_celsius: maxCelsius },
    });
  const swing = maxCelsius - minCelsius;
  if (swing > limits.largestSwing)
    reasons.push({
      verdict: 'check',
      code: 'swing',
      values: {
        swing_celsius_difference: swing,
        limit_celsius_difference: limits.largestSwing,
        low_celsius: minCelsius,
        high_celsius: maxCelsius,
      },
    });
  if (gapMinutes > LONGEST_UNKNOWN_MINUTES)
    reasons.push({ verdict: 'check', code: 'gap', values: { gap_minutes: gapMinutes } });
  return reasons;
};
