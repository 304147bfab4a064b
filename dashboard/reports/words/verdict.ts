// What the night allows: a verdict with its reasons, for a storage place and for a pattern. The rules of the verdicts
// are our own choice (common practice, no published limit for stored patterns is known); the figures they rest on
// carry their own standing. They advise; whoever signs decides. docs/night-sheet.md explains each.

import type { HeatFigures, Reason, Verdict } from '../../api/night.ts';

export type ReasonValues = Readonly<Record<string, number | string>>;
/** Puts a reason into words; the language is the caller's matter. */
export type Say = (code: ReasonCode, values: ReasonValues) => string;

export const REASON_CODES = [
  'softened',
  'tolerance-spent',
  'band-over-tolerance',
  'no-readings',
  'too-warm',
  'gap',
  'swing',
  'within-tolerance',
  'kept-well',
  'left-on',
  'over-ceiling',
  'probe-gap',
  'probe-doubtful',
  'probe-alarm',
] as const;
export type ReasonCode = (typeof REASON_CODES)[number];

export interface Judged {
  readonly verdict: Verdict;
  readonly reasons: readonly Reason[];
}

export interface Finding {
  readonly verdict: Verdict;
  readonly code: ReasonCode;
  readonly values: ReasonValues;
}

/** Minutes without knowledge that a verdict bears. Common practice. */
const LONGEST_UNKNOWN_MINUTES = 30;
/** Above its limit for so long a pattern is looked at; the delay of the alarm of the same cause. Common practice. */
const WARM_MINUTES = 10;

/** The worst finding gives the verdict; what is less grave stands behind it. */
export const judged = (findings: readonly Finding[], well: Finding, say: Say): Judged => {
  const all = findings.length > 0 ? findings : [well];
  const rank = { 'may-be-invested': 0, check: 1, remake: 2 } as const;
  const sorted = [...all].sort((one, other) => rank[other.verdict] - rank[one.verdict]);
  return {
    verdict: sorted[0]?.verdict ?? 'check',
    reasons: sorted.map(({ code, values }) => ({ code, values: { ...values }, text: say(code, values) })),
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

/** What a place and a pattern have in common: how the night was. */
export const nightFindings = (figures: HeatFigures, limits: PlaceLimits): readonly Finding[] => {
  const { minCelsius, maxCelsius, minutesOutOfBand, gapMinutes } = figures;
  const findings: Finding[] = [];
  if (minCelsius === null || maxCelsius === null)
    return [{ verdict: 'check', code: 'no-readings', values: {} }];
  if (limits.meltsFrom !== null && maxCelsius >= limits.meltsFrom)
    findings.push({
      verdict: 'remake',
      code: 'softened',
      values: { peak_celsius: maxCelsius, melting_celsius: limits.meltsFrom },
    });
  if (limits.storageMax !== null && minutesOutOfBand >= WARM_MINUTES)
    findings.push({
      verdict: 'check',
      code: 'too-warm',
      values: {
        warm_minutes: minutesOutOfBand,
        limit_celsius: limits.storageMax,
        peak_celsius: maxCelsius,
      },
    });
  const swing = maxCelsius - minCelsius;
  if (swing > limits.largestSwing)
    findings.push({
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
    findings.push({ verdict: 'check', code: 'gap', values: { gap_minutes: gapMinutes } });
  return findings;
};

export interface Forecast {
  readonly predicted: number;
  readonly low: number;
  readonly high: number;
}

/** The likely error decides on a remake, the upper end of its band on a look: a guard band on the safe side. */
export const patternFindings = (error: Forecast | null, tolerance: number): readonly Finding[] => {
  if (error === null) return [];
  const values = {
    predicted_micrometres: error.predicted,
    low_micrometres: error.low,
    high_micrometres: error.high,
    tolerance_micrometres: tolerance,
  };
  if (error.predicted >= tolerance) return [{ verdict: 'remake', code: 'tolerance-spent', values }];
  if (error.high >= tolerance) return [{ verdict: 'check', code: 'band-over-tolerance', values }];
  return [];
};
