// The lab's own proof: measured fits beside what was predicted, what they indicate, and what remakes had in common.

import type { Charge } from '../../../lab/charge.ts';
import { type FitCase, type FitStage, fitCases, fitFactors } from '../../../lab/patterns/fit-case.ts';
import { labsWaxClass } from '../../../lab/limits.ts';
import type { Pattern } from '../../../lab/pattern.ts';
import { commonFactors } from '../../../lab/patterns/remakes.ts';
import {
  fitAgreement,
  fitStrain,
  type FittedStrain,
  LEAST_PAIRS,
  type StrainPair,
} from '../../../wax/relaxation/fit-agreement.ts';
import type { Result } from '../../../wax/result.ts';
import type { FitProofView } from '../../api/fit-proof.ts';
import type { RunningLab } from '../../queries/running-lab.ts';

const STAGES: readonly FitStage[] = ['pattern', 'casting'];

const allCases = ({ repository }: RunningLab): readonly FitCase[] => fitCases(repository.allPatterns());

const agreementOf = (stage: FitStage, cases: readonly FitCase[]): FitProofView['agreements'][number] => {
  const pairs = cases.flatMap(({ stage: of, gapMicrometres, predicted }) =>
    of !== stage || gapMicrometres === null || predicted === null
      ? []
      : [
          {
            measuredMicrometres: gapMicrometres,
            likelyMicrometres: predicted.likely_micrometres,
            lowMicrometres: predicted.low_micrometres,
            highMicrometres: predicted.high_micrometres,
          },
        ],
  );
  const agreement = pairs.length < LEAST_PAIRS ? null : fitAgreement(pairs);
  return {
    stage,
    pairs: pairs.length,
    least: LEAST_PAIRS,
    biasMicrometres: agreement?.biasMicrometres ?? null,
    biasUncertaintyMicrometres: agreement?.biasUncertaintyMicrometres ?? null,
    spreadMicrometres: agreement?.spreadMicrometres ?? null,
    insideShare: agreement?.insideShare ?? null,
    insideLow: agreement?.insideLow ?? null,
    insideHigh: agreement?.insideHigh ?? null,
  };
};

interface Group {
  readonly wax: Pattern['wax'];
  readonly technique: Pattern['technique'];
  readonly stage: FitStage;
}

const strainPairs = (cases: readonly FitCase[], group: Group): readonly StrainPair[] =>
  cases.flatMap(({ pattern, stage, gapMicrometres, predicted }) => {
    const isOfGroup =
      pattern.wax === group.wax && pattern.technique === group.technique && stage === group.stage;
    if (!isOfGroup || gapMicrometres === null || predicted === null) return [];
    const contraction = predicted.likely_micrometres - predicted.permanent_micrometres;
    return [
      {
        measuredMicrometres: Math.max(0, gapMicrometres - contraction),
        perStrainMicrometres: predicted.permanent_micrometres / predicted.frozen_strain,
      },
    ];
  });

/** What the measurements of one wax, technique and stage indicate. */
export const recalibrationOf = (running: RunningLab, group: Group): Result<FittedStrain> =>
  fitStrain(strainPairs(allCases(running), group));

const recalibrations = (running: RunningLab, cases: readonly FitCase[]): FitProofView['recalibrations'] => {
  const groups = new Map<string, Group>();
  for (const { pattern, stage, gapMicrometres, predicted } of cases)
    if (gapMicrometres !== null && predicted !== null)
      groups.set(`${pattern.wax} ${pattern.technique} ${stage}`, {
        wax: pattern.wax,
        technique: pattern.technique,
        stage,
      });
  return [...groups.values()].map((group) => {
    const pairs = strainPairs(cases, group);
    const fitted = fitStrain(pairs);
    const value = fitted.ok ? fitted.value : null;
    return {
      ...group,
      pairs: pairs.length,
      problem: fitted.ok ? null : fitted.problem.code,
      strain: value?.strain ?? null,
      uncertainty: value?.uncertainty ?? null,
      presentStrain: labsWaxClass(group.wax, running.lab()).relaxation.frozenStrain[group.technique].value,
      constantMicrometres: value?.constantMicrometres ?? null,
      constantUncertaintyMicrometres: value?.constantUncertaintyMicrometres ?? null,
      spreadShare: value?.spreadShare ?? null,
    };
  });
};

export const fitProofView = (running: RunningLab): FitProofView => {
  const { repository } = running;
  const cases = allCases(running);
  const charges = new Map(repository.allCharges().map((charge): [string, Charge] => [charge.id, charge]));
  const ended = repository.allPatterns().filter(({ fate }) => fate !== null && fate.kind !== 'discarded');
  const failed = new Set(
    cases.filter(({ stage, isPassed }) => stage === 'casting' && !isPassed).map(({ pattern }) => pattern.id),
  );
  const judged = ended.map((pattern) => ({
    isRemade: pattern.fate?.kind === 'remade' || failed.has(pattern.id),
    factors: fitFactors(pattern, charges),
  }));
  const { remake_price: price, remake_minutes: minutes } = running.lab().site.patternCare ?? {};
  return {
    cases: cases
      .toSorted((left, right) => Date.parse(right.measuredAt) - Date.parse(left.measuredAt))
      .map(({ pattern, predicted, stage, measuredAt, gapMicrometres, isPassed }) => ({
        pattern: pattern.id,
        caseReference: pattern.caseReference,
        stage,
        measuredAt,
        gapMicrometres,
        isPassed,
        predictedMicrometres: predicted?.likely_micrometres ?? null,
        lowMicrometres: predicted?.low_micrometres ?? null,
        highMicrometres: predicted?.high_micrometres ?? null,
        storedHours: predicted?.stored_hours ?? null,
        meanKineticCelsius: predicted?.mean_kinetic_celsius ?? null,
        factors: { ...fitFactors(pattern, charges) },
      })),
    agreements: STAGES.map((stage) => agreementOf(stage, cases)),
    recalibrations: recalibrations(running, cases),
    remakes: {
      remade: judged.filter(({ isRemade }) => isRemade).length,
      ended: judged.length,
      price: price ?? null,
      minutes: minutes ?? null,
      factors: [...commonFactors(judged)],
    },
  };
};
