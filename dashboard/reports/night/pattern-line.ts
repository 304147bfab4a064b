// One pattern on the sheet: what the night did to it and how it stands at its end, worked out anew from the readings
// since it was made, so that any night of the past can be judged as of its own morning. Pure.

import type { SeriesBucket } from '../../../collector/store/store.ts';
import type { Pattern } from '../../../lab/pattern.ts';
import {
  dueInstants,
  type PatternFacts,
  predictedError,
  relaxationParameters,
  relaxationStart,
  relaxationStep,
} from '../../../wax/relaxation.ts';
import {
  type Celsius,
  type EpochMillis,
  epochMillis,
  type Micrometres,
  type Millimetres,
  type Seconds,
} from '../../../wax/units.ts';
import type { WaxClass } from '../../../wax/wax-class.ts';
import type { PatternLine } from '../../api/night.ts';
import { heatFigures, LONGEST_GAP_MILLIS } from './heat-figures.ts';
import type { Say } from '../../../words/load-languages.ts';
import { judge, nightReasons, patternReasons, type PlaceLimits } from './verdict.ts';

export interface PatternNight {
  readonly pattern: Pattern;
  readonly wax: WaxClass;
  readonly station: string;
  readonly stationName: string;
  /** Peak to peak that its place bears over a night, °C. */
  readonly largestSwing: number;
  /** Since it was made, oldest first. */
  readonly life: readonly SeriesBucket[];
  readonly lifeWidthMillis: number;
  /** Of the night alone, finer. */
  readonly night: readonly SeriesBucket[];
  readonly nightWidthMillis: number;
}

const standing = ({ pattern, wax, life, lifeWidthMillis }: PatternNight) => {
  const first = life[0];
  if (first === undefined) return null;
  const longestGap = Math.max(LONGEST_GAP_MILLIS, 2 * lifeWidthMillis) / 1000;
  const params = relaxationParameters(wax, longestGap as Seconds);
  let state = relaxationStart(epochMillis(Date.parse(pattern.madeAt)));
  for (const { at, mean } of life)
    state = relaxationStep(state, Math.max(at, state.at) as EpochMillis, mean as Celsius, params);
  const facts: PatternFacts = {
    technique: pattern.technique,
    length: pattern.length_millimetres as Millimetres,
    fittedCelsius: first.mean as Celsius,
  };
  const tolerance = pattern.tolerance_micrometres as Micrometres;
  const lastDay = life.map(({ at, mean }) => ({ at: at + lifeWidthMillis / 2, celsius: mean }));
  return {
    error: predictedError(state, facts, wax, params),
    toleranceAt: dueInstants(state, facts, wax, params, tolerance, lastDay, lifeWidthMillis).earliest,
  };
};

export const patternLine = (
  inputs: PatternNight,
  night: { readonly from: EpochMillis; readonly to: EpochMillis },
  say: Say,
): PatternLine => {
  const { pattern, wax } = inputs;
  const limits: PlaceLimits = {
    storageMax: wax.storageMax.value,
    meltsFrom: wax.melting.low.value,
    largestSwing: inputs.largestSwing,
  };
  // Made in the night, it has known no more of it than that.
  const from = epochMillis(Math.max(night.from, Date.parse(pattern.madeAt)));
  const ended = pattern.fate === null ? night.to : Math.min(night.to, Date.parse(pattern.fate.at));
  const figures = heatFigures(
    {
      buckets: inputs.night,
      widthMillis: inputs.nightWidthMillis,
      from,
      to: epochMillis(Math.max(from, ended)),
    },
    limits.storageMax,
  );
  const stands = standing(inputs);
  const error =
    stands === null
      ? null
      : { predicted: stands.error.micrometres, low: stands.error.low, high: stands.error.high };
  const tolerance = pattern.tolerance_micrometres;
  const { verdict, reasons } = judge(
    [...patternReasons(error, tolerance), ...nightReasons(figures, limits)],
    {
      verdict: 'may-be-invested',
      code: 'within-tolerance',
      values: { high_micrometres: error?.high ?? 0, tolerance_micrometres: tolerance },
    },
    say,
  );
  const by = stands?.toleranceAt ?? null;
  return {
    id: pattern.id,
    caseReference: pattern.caseReference,
    wax: { id: wax.id, name: wax.name },
    technique: pattern.technique,
    station: inputs.station,
    stationName: inputs.stationName,
    verdict,
    reasons: [...reasons],
    figures,
    toleranceMicrometres: tolerance,
    predictedMicrometres: error?.predicted ?? null,
    lowMicrometres: error?.low ?? null,
    highMicrometres: error?.high ?? null,
    standing: stands?.error.standing ?? null,
    isCalibrated: stands?.error.isCalibrated ?? false,
    investBy: by === null ? null : new Date(by).toISOString(),
    fate: pattern.fate === null ? null : { ...pattern.fate },
  };
};
