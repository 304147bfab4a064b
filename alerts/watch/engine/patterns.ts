// Waiting patterns: how each has aged where it lies, and when it will meet its tolerance. Where a pattern lies and
// whether it still waits is the lab's to say; only its heat is remembered here.

import { mktStart, mktStep, mktValue } from '../../../wax/mean-kinetic-temperature.ts';
import { rainflowResidue, rainflowStart, rainflowStep } from '../../../wax/rainflow.ts';
import {
  dueInstants,
  type PatternFacts,
  predictedError,
  relaxationStart,
  relaxationStep,
} from '../../../wax/relaxation.ts';
import {
  type Celsius,
  epochMillis,
  type Micrometres,
  type Millimetres,
  type Seconds,
} from '../../../wax/units.ts';
import { bucketMean, PAST_BUCKET_MILLIS } from '../measures/past.ts';
import type { PatternOutlook } from '../measures/pattern-outlook.ts';
import { type PatternMemory, pastPart } from './memory.ts';
import type { LabPlan, PatternPlan, StationPlan } from './lab-plan.ts';
import { hide, judge, type Moment } from './tell.ts';
import { closedBuckets, editPattern, part, type Work } from './work.ts';

/** A pattern takes a reading in when the last is this old or the temperature has moved by this. */
const STEP_MILLIS = 60_000;
const STEP_CELSIUS = 0.25;
const OUTLOOK_MILLIS = 600_000;
/** A smaller range is the heating's hum and not a swing. Common practice. */
const LEAST_SWING = 1;
const LONGEST_GAP_MINUTES = 15;

type Parts = Readonly<Work['parts']>;

const newPattern = (madeAt: number, celsius: number): PatternMemory => ({
  relaxation: relaxationStart(epochMillis(madeAt)),
  fittedCelsius: celsius,
  mkt: mktStart({ longestGap: (LONGEST_GAP_MINUTES * 60) as Seconds }),
  rainflow: rainflowStart(),
  swings: 0,
  largestSwing: 0,
  minutesTooWarm: 0,
  outlook: null,
  outlookAt: 0,
  rules: {},
});

export function stepPatterns(
  work: Work,
  station: StationPlan,
  at: number,
  celsius: number,
  moment: Moment,
): void {
  for (const plan of station.patterns) {
    const known = part<PatternMemory | null>(work.parts, plan.partName);
    if (known != null && !isDue(known, at, celsius)) continue;
    const memory = editPattern(work, plan.partName, () => newPattern(Math.min(plan.madeAt, at), celsius));
    advance(memory, plan, at, celsius);
    if (memory.outlook !== null && at - memory.outlookAt < OUTLOOK_MILLIS) continue;
    memory.outlookAt = at;
    memory.outlook = outlookOf(work.parts, plan, memory);
    lookAtPattern(work, plan, memory, moment);
  }
}

const isDue = ({ relaxation }: PatternMemory, at: number, celsius: number): boolean =>
  at > relaxation.at &&
  (at - relaxation.at >= STEP_MILLIS || Math.abs(celsius - relaxation.celsius) >= STEP_CELSIUS);

function advance(memory: PatternMemory, plan: PatternPlan, at: number, celsius: number): void {
  const minutes = memory.relaxation.readings === 0 ? 0 : (at - memory.relaxation.at) / 60_000;
  if (celsius > plan.storageMax && minutes <= LONGEST_GAP_MINUTES) memory.minutesTooWarm += minutes;
  memory.relaxation = relaxationStep(memory.relaxation, epochMillis(at), celsius as Celsius, plan.params);
  memory.mkt = mktStep(memory.mkt, epochMillis(at), celsius as Celsius);
  const counted = rainflowStep(memory.rainflow, celsius);
  memory.rainflow = counted.state;
  for (const cycle of counted.cycles)
    if (cycle.range >= LEAST_SWING) {
      memory.swings += cycle.count;
      memory.largestSwing = Math.max(memory.largestSwing, cycle.range);
    }
}

const factsOf = ({ pattern }: PatternPlan, memory: PatternMemory): PatternFacts => ({
  technique: pattern.technique,
  length: pattern.length_millimetres as Millimetres,
  fittedCelsius: memory.fittedCelsius as Celsius,
});

function outlookOf(parts: Parts, plan: PatternPlan, memory: PatternMemory): PatternOutlook {
  const facts = factsOf(plan, memory);
  const { relaxation } = memory;
  const error = predictedError(relaxation, facts, plan.wax, plan.params);
  // The greatest swing of a history stays open until a greater one closes it.
  const open = rainflowResidue(memory.rainflow).filter(({ range }) => range >= LEAST_SWING);
  const tolerance = plan.pattern.tolerance_micrometres as Micrometres;
  const lastDay = closedBuckets(parts, pastPart(plan.station)).map(bucketMean);
  const due = dueInstants(relaxation, facts, plan.wax, plan.params, tolerance, lastDay, PAST_BUCKET_MILLIS);
  return {
    pattern: plan.pattern.id,
    station: plan.station,
    predictedMicrometres: error.micrometres,
    lowMicrometres: error.low,
    highMicrometres: error.high,
    standing: error.standing,
    isCalibrated: error.isCalibrated,
    toleranceAt: due.earliest,
    toleranceIfSteadyAt: due.ifSteady,
    ...(due.byForecast !== undefined && { toleranceByForecastAt: due.byForecast }),
    meanKineticCelsius: mktValue(memory.mkt),
    swings: open.reduce((sum, { count }) => sum + count, memory.swings),
    largestSwingCelsius: Math.max(memory.largestSwing, ...open.map(({ range }) => range)),
    minutesTooWarm: memory.minutesTooWarm,
    tooWarm: relaxation.celsius > plan.storageMax,
    storageMax: plan.storageMax,
  };
}

function lookAtPattern(work: Work, plan: PatternPlan, memory: PatternMemory, moment: Moment): void {
  const { outlook } = memory;
  if (outlook === null) return;
  for (const planned of work.plan.patternRules) {
    const look = planned.rule.look({ pattern: plan.pattern, outlook, at: moment.at }, planned.values);
    judge(work, memory.rules, planned, plan.pattern.id, look, moment, () => null);
    hide(work, planned.rule, plan.pattern.id, null, moment.at);
  }
}

const NO_PATTERNS: readonly PatternOutlook[] = [];

/** The newest outlooks of the patterns at a station, as the rules see them. */
export const outlooksAt = (parts: Work['parts'], station: StationPlan): readonly PatternOutlook[] =>
  station.patterns.length === 0
    ? NO_PATTERNS
    : station.patterns.flatMap((plan) => part<PatternMemory | null>(parts, plan.partName)?.outlook ?? []);

/**
 * Worked out anew from what is remembered, for screens and sheets, of all patterns or of the one that is asked for;
 * patterns without a reading are left out.
 */
export const patternOutlooks = (parts: Parts, plan: LabPlan, asked?: string): readonly PatternOutlook[] =>
  plan.patterns.flatMap((pattern) => {
    if (asked !== undefined && pattern.pattern.id !== asked) return [];
    const memory = part<PatternMemory | null>(parts, pattern.partName);
    return memory == null ? [] : [outlookOf(parts, pattern, memory)];
  });
