// A pattern as it crosses the wire, with its verdict where the watch works one out.

import type { PatternOutlook } from '../../../alerts/watch/measures/pattern-outlook.ts';
import { patternsWaxClass } from '../../../lab/limits.ts';
import { patternLots } from '../../../lab/patterns/recall.ts';
import type { Charge } from '../../../lab/charge.ts';
import type { Casting, LifeAct, Pattern } from '../../../lab/pattern.ts';
import { patternCare } from '../../../lab/pattern-care.ts';
import type { Say } from '../../../words/load-languages.ts';
import type { PatternView } from '../../api/patterns.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import { lotShareViews } from './lot-share-view.ts';
import { patternVerdictView } from './pattern-verdict-view.ts';
import { isoOrNull } from '../../../wax/iso.ts';

const outlookView = (outlook: PatternOutlook): PatternView['outlook'] => {
  const { verdict } = outlook;
  if (verdict.permanent === null) return null;
  return {
    predictedMicrometres: verdict.values.likely_micrometres ?? 0,
    lowMicrometres: verdict.values.low_micrometres ?? 0,
    highMicrometres: verdict.values.high_micrometres ?? 0,
    standing: verdict.standing,
    meanKineticCelsius: outlook.meanKineticCelsius,
    swings: outlook.swings,
    largestSwingCelsius: outlook.largestSwingCelsius,
    minutesTooWarm: outlook.minutesTooWarm,
    tooWarm: outlook.tooWarm,
    ifSteady: isoOrNull(verdict.toleranceIfSteadyAt),
    byForecast: isoOrNull(verdict.toleranceByForecastAt ?? null),
    hasForecast: verdict.toleranceByForecastAt !== undefined,
  };
};

const actView = ({ gap_micrometres, predicted: _, ...act }: LifeAct): PatternView['acts'][number] => ({
  ...act,
  ...(gap_micrometres !== undefined && { gapMicrometres: gap_micrometres }),
});

/** The charge that it was made from, also one that is no longer in a pot. */
const chargesOf = ({ repository }: RunningLab, { charge: id }: Pattern): ReadonlyMap<string, Charge> => {
  const charge = id === undefined ? undefined : repository.findCharge(id);
  return new Map(charge === undefined ? [] : [[charge.id, charge]]);
};

const castingView = ({ steps_before, ...casting }: Casting = {}): PatternView['casting'] => ({
  ...casting,
  ...(steps_before !== undefined && { steps_before: [...steps_before] }),
});

export const patternView = (running: RunningLab, pattern: Pattern, say: Say): PatternView => {
  const lab = running.lab();
  const outlook = pattern.fate === null ? running.patternOutlook?.(pattern.id) : undefined;
  const stay = pattern.stays.at(-1);
  const station = pattern.fate === null && stay?.to === null ? stay.station : null;
  return {
    id: pattern.id,
    caseReference: pattern.caseReference,
    kind: pattern.kind ?? 'pattern',
    wax: { id: pattern.wax, name: patternsWaxClass(pattern, lab).name },
    charge: pattern.charge ?? null,
    lots: lotShareViews(running, patternLots(pattern, chargesOf(running, pattern))),
    technique: pattern.technique,
    forming: pattern.forming ?? {},
    lengthMillimetres: pattern.length_millimetres,
    toleranceMicrometres: pattern.tolerance_micrometres,
    madeAt: pattern.madeAt,
    madeBy: pattern.madeBy,
    station,
    stationName: lab.stations.find(({ id }) => id === station)?.name ?? station,
    casting: castingView(pattern.casting),
    stays: [...pattern.stays],
    acts: (pattern.acts ?? []).map(actView),
    investBy: isoOrNull(outlook?.verdict.dueAt ?? null),
    verdict:
      outlook === undefined
        ? null
        : patternVerdictView(outlook.verdict, patternCare(lab.site.patternCare), say),
    outlook: outlook === undefined ? null : outlookView(outlook),
    fate: pattern.fate,
  };
};

const GRAVITY = { remake: 0, check: 1, 'may-be-invested': 2 } as const;

/** Waiting ones first, by the time that is left, the graver first where it is the same; then ended ones, newest first. */
export const byTimeLeft = (a: PatternView, b: PatternView): number => {
  if ((a.fate === null) !== (b.fate === null)) return a.fate === null ? -1 : 1;
  if (a.fate !== null && b.fate !== null) return Date.parse(b.fate.at) - Date.parse(a.fate.at);
  const left = (view: PatternView) => (view.investBy === null ? Infinity : Date.parse(view.investBy));
  // Infinity minus itself is no number.
  if (left(a) !== left(b)) return left(a) - left(b);
  const gravity = (view: PatternView) => GRAVITY[view.verdict?.code ?? 'may-be-invested'];
  return gravity(a) - gravity(b) || Date.parse(a.madeAt) - Date.parse(b.madeAt);
};
