// Measured fits joined to the whole history of their patterns: what was predicted, and what the pattern was made of and
// went through. Only what was measured or seen at seating counts. Pure.

import { MILLIS_PER_HOUR } from '../../wax/units.ts';
import type { Charge } from '../charge.ts';
import type { LifeAct, Pattern } from '../pattern.ts';
import { patternLots } from './recall.ts';
import type { PredictedFit } from '../predicted-fit.ts';

/** Seated in wax before it was invested, or as the casting. */
export type FitStage = 'pattern' | 'casting';

/** Codes and ids, by the name of what they stand for; what is not recorded is left out. */
export type FitFactors = Readonly<Record<string, string>>;

export interface FitCase {
  readonly pattern: Pattern;
  readonly stage: FitStage;
  readonly measuredAt: string;
  /** Null: it passed without a measure. */
  readonly gapMicrometres: number | null;
  readonly isPassed: boolean;
  /** Null where nothing was predicted of it. */
  readonly predicted: PredictedFit | null;
}

const lastSeated = (acts: readonly LifeAct[], isStage: (at: number) => boolean): LifeAct | undefined =>
  acts.findLast(({ kind, at }) => kind === 'seated' && isStage(Date.parse(at)));

const caseOf = (
  pattern: Pattern,
  stage: FitStage,
  act: LifeAct | undefined,
  predicted: PredictedFit | undefined,
): readonly FitCase[] => {
  if (act === undefined) return [];
  const gap = act.gap_micrometres ?? 0;
  return [
    {
      pattern,
      stage,
      measuredAt: act.at,
      gapMicrometres: gap === 0 ? null : gap,
      isPassed: gap <= pattern.tolerance_micrometres,
      predicted: predicted ?? null,
    },
  ];
};

/** One for each pattern and stage: the last time that it was seated. */
export const fitCases = (patterns: readonly Pattern[]): readonly FitCase[] =>
  patterns.flatMap((pattern) => {
    const { acts = [], fate } = pattern;
    const investedAt = fate?.kind === 'invested' ? Date.parse(fate.at) : Number.POSITIVE_INFINITY;
    const before = lastSeated(acts, (at) => at < investedAt);
    const after = lastSeated(acts, (at) => at >= investedAt);
    return [
      ...caseOf(pattern, 'pattern', before, before?.predicted),
      ...caseOf(pattern, 'casting', after, pattern.predictedAtInvesting),
    ];
  });

const WARM_MINUTES = 10;

const storageBand = (hours: number): string =>
  hours < 1 ? 'under-1-hour' : hours < 12 ? '1-to-12-hours' : hours < 48 ? '12-to-48-hours' : 'over-48-hours';

/** What may be common to patterns: wax, lot, charge and its dose, softening, storage, die, investment, alloy. */
export function fitFactors(pattern: Pattern, charges: ReadonlyMap<string, Charge>): FitFactors {
  const { casting = {}, forming = {}, fate, stays } = pattern;
  const predicted = pattern.predictedAtInvesting ?? pattern.acts?.findLast((act) => act.predicted)?.predicted;
  const hours =
    predicted?.stored_hours ??
    (fate === null ? null : (Date.parse(fate.at) - Date.parse(pattern.madeAt)) / MILLIS_PER_HOUR);
  const lot = patternLots(pattern, charges)[0]?.lot;
  const station = stays.at(-1)?.station;
  const share = pattern.charge_dose_share;
  return {
    wax: pattern.wax,
    technique: pattern.technique,
    ...(lot !== undefined && { lot }),
    ...(pattern.charge !== undefined && { charge: pattern.charge }),
    ...(share !== undefined && { dose: share >= 1 ? 'spent' : share >= 0.5 ? 'over-half' : 'under-half' }),
    ...(forming.origin !== undefined && { origin: forming.origin }),
    ...(forming.softening !== undefined && { softening: forming.softening }),
    ...(station !== undefined && { station }),
    ...(hours !== null && { stored: storageBand(hours) }),
    ...(predicted !== undefined && {
      warm: predicted.too_warm_minutes >= WARM_MINUTES ? 'too-warm' : 'never-too-warm',
      die: predicted.held_hours > predicted.stored_hours / 2 ? 'mostly-on-die' : 'mostly-off-die',
    }),
    ...(casting.investment !== undefined && { investment: casting.investment }),
    ...(casting.alloy !== undefined && { alloy: casting.alloy }),
    ...(casting.powder_lot !== undefined && { 'powder-lot': casting.powder_lot }),
  };
}
