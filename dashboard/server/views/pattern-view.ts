// A pattern as it crosses the wire, with its outlook where the rules work one out.

import { labsWaxClass } from '../../../lab/limits.ts';
import type { Pattern } from '../../../lab/pattern.ts';
import { epochMillis } from '../../../wax/units.ts';
import type { PatternView } from '../../api/patterns.ts';
import { iso } from '../base/instant.ts';
import type { RunningLab } from '../../queries/running-lab.ts';

const instantOrNull = (at: number | null): string | null => (at === null ? null : iso(epochMillis(at)));

export const patternView = (running: RunningLab, pattern: Pattern): PatternView => {
  const lab = running.lab();
  const outlook = pattern.fate === null ? running.patternOutlook?.(pattern.id) : undefined;
  const station = pattern.fate === null ? (pattern.stays.at(-1)?.station ?? null) : null;
  return {
    id: pattern.id,
    caseReference: pattern.caseReference,
    wax: { id: pattern.wax, name: labsWaxClass(pattern.wax, lab).name },
    technique: pattern.technique,
    lengthMillimetres: pattern.length_millimetres,
    toleranceMicrometres: pattern.tolerance_micrometres,
    madeAt: pattern.madeAt,
    madeBy: pattern.madeBy,
    station,
    stationName: lab.stations.find(({ id }) => id === station)?.name ?? station,
    stays: [...pattern.stays],
    investBy: instantOrNull(outlook?.toleranceAt ?? null),
    outlook:
      outlook === undefined
        ? null
        : {
            predictedMicrometres: outlook.predictedMicrometres,
            lowMicrometres: outlook.lowMicrometres,
            highMicrometres: outlook.highMicrometres,
            standing: outlook.standing,
            meanKineticCelsius: outlook.meanKineticCelsius,
            swings: outlook.swings,
            largestSwingCelsius: outlook.largestSwingCelsius,
            minutesTooWarm: outlook.minutesTooWarm,
            tooWarm: outlook.tooWarm,
            ifSteady: instantOrNull(outlook.toleranceIfSteadyAt),
            byForecast: instantOrNull(outlook.toleranceByForecastAt ?? null),
            hasForecast: outlook.toleranceByForecastAt !== undefined,
          },
    fate: pattern.fate,
  };
};

/** Waiting ones first, by the time that is left; then ended ones, newest first. */
export const byTimeLeft = (a: PatternView, b: PatternView): number => {
  if ((a.fate === null) !== (b.fate === null)) return a.fate === null ? -1 : 1;
  if (a.fate !== null && b.fate !== null) return Date.parse(b.fate.at) - Date.parse(a.fate.at);
  const left = (view: PatternView) => (view.investBy === null ? Infinity : Date.parse(view.investBy));
  // Infinity minus itself is no number.
  return left(a) === left(b) ? Date.parse(a.madeAt) - Date.parse(b.madeAt) : left(a) - left(b);
};
