// One pattern on the sheet: what the night did to it and its verdict at the night's end, worked out anew from the readings
// since it was made, so that any night of the past can be judged as of its own morning. Pure.

import { verdictText } from '../../../alerts/notices/texts/verdict-text.ts';
import type { SeriesBucket } from '../../../collector/store/store.ts';
import type { Pattern } from '../../../lab/pattern.ts';
import type { PatternCareValues } from '../../../lab/pattern-care.ts';
import { type PatternVerdict, patternVerdict } from '../../../lab/patterns/pattern-verdict.ts';
import { type CoursePoint, relaxationParameters } from '../../../wax/relaxation/relaxation.ts';
import { type Celsius, type EpochMillis, epochMillis } from '../../../wax/units.ts';
import type { WaxClass } from '../../../wax/wax-class.ts';
import type { PatternLine } from '../../api/night.ts';
import { heatFigures, LONGEST_GAP_MILLIS } from './heat-figures.ts';
import type { Say } from '../../../words/load-languages.ts';
import { iso, isoOrNull } from '../../../wax/iso.ts';

export interface PatternNight {
  readonly pattern: Pattern;
  readonly wax: WaxClass;
  readonly care: PatternCareValues;
  /** Of now, while the night lasts; null once it is over. */
  readonly present: PatternVerdict | null;
  readonly station: string;
  readonly stationName: string;
  /** Since it was made, oldest first. */
  readonly life: readonly SeriesBucket[];
  readonly lifeWidthMillis: number;
  /** Of the night alone, finer. */
  readonly night: readonly SeriesBucket[];
  readonly nightWidthMillis: number;
}

/** Means in the middle of their buckets; what is further apart than a gap may be is marked. */
const coursePoints = ({ life, lifeWidthMillis }: PatternNight): readonly CoursePoint[] => {
  const longestGap = Math.max(LONGEST_GAP_MILLIS, 2 * lifeWidthMillis);
  return life.map(({ at, mean, max }, index) => {
    const before = life[index - 1];
    const isAfterGap = before !== undefined && at - before.at > longestGap;
    return {
      at: (at + lifeWidthMillis / 2) as EpochMillis,
      celsius: mean as Celsius,
      ...(isAfterGap && { atMostCelsius: Math.max(max, before.max) as Celsius }),
    };
  });
};

const verdictAt = (inputs: PatternNight, at: EpochMillis): PatternVerdict => {
  const { pattern, wax, care, life, lifeWidthMillis } = inputs;
  return patternVerdict({
    pattern,
    wax,
    care,
    at,
    heat: { points: coursePoints(inputs) },
    params: relaxationParameters(wax),
    lastDay: life.map((bucket) => ({ at: bucket.at + lifeWidthMillis / 2, celsius: bucket.mean })),
    lastDayWidthMillis: lifeWidthMillis,
  });
};

export const patternLine = (
  inputs: PatternNight,
  night: { readonly from: EpochMillis; readonly to: EpochMillis },
  say: Say,
): PatternLine => {
  const { pattern, wax } = inputs;
  // Made in the night, it has known no more of it than that.
  const from = epochMillis(Math.max(night.from, Date.parse(pattern.madeAt)));
  const ended = pattern.fate === null ? night.to : Math.min(night.to, Date.parse(pattern.fate.at));
  const to = epochMillis(Math.max(from, ended));
  const figures = heatFigures(
    { buckets: inputs.night, widthMillis: inputs.nightWidthMillis, from, to },
    () => wax.storageMax.value,
  );
  const verdict = inputs.present ?? verdictAt(inputs, to);
  const { values } = verdict;
  const isKnown = verdict.permanent !== null;
  return {
    id: pattern.id,
    caseReference: pattern.caseReference,
    wax: { id: wax.id, name: wax.name },
    technique: pattern.technique,
    station: inputs.station,
    stationName: inputs.stationName,
    verdict: verdict.verdict,
    asOf: iso(verdict.at),
    reasons: [{ code: verdict.reason, values: { ...values }, text: verdictText(say, verdict) }],
    figures,
    toleranceMicrometres: pattern.tolerance_micrometres,
    predictedMicrometres: isKnown ? (values.likely_micrometres ?? null) : null,
    lowMicrometres: isKnown ? (values.low_micrometres ?? null) : null,
    highMicrometres: isKnown ? (values.high_micrometres ?? null) : null,
    reversibleMicrometres: verdict.reversible?.likely ?? null,
    standing: isKnown ? verdict.standing : null,
    isCalibrated: verdict.isCalibrated,
    investBy: isoOrNull(verdict.dueAt),
    isOverdue: verdict.isOverdue,
    fate: pattern.fate === null ? null : { ...pattern.fate },
  };
};
