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
import { meanOf, TEN_MINUTES_MILLIS } from '../measures/ten-minutes.ts';
import type { PatternOutlook } from '../measures/pattern-outlook.ts';
import { applyJudgements, hideAlarm } from './alarms.ts';
import { closedHistory, type Draft, editPattern } from './draft.ts';
import { judge, type Moment } from './evaluate.ts';
import type { LabPlan, PatternPlan, StationPlan } from './lab-plan.ts';
import { historyKey, type PatternMemory, type StationMemory, type WatchState } from './memory.ts';

/** A pattern takes a reading in when the last is this old or the temperature has moved by this. */
const STEP_MILLIS = 60_000;
const STEP_CELSIUS = 0.25;
const OUTLOOK_MILLIS = 600_000;
/** A smaller range is the heating's hum and not a swing. Common practice. */
const LEAST_SWING = 1;
const LONGEST_GAP_MINUTES = 15;

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
  conditions: {},
});

/** Takes the present value of a storage place into the patterns that lie there, and evaluates their rules. */
export function stepPatterns(
  draft: Draft,
  plan: StationPlan,
  { at, celsius }: StationMemory,
  moment: Moment,
): void {
  for (const pattern of plan.patterns) {
    const before = draft.parts[pattern.key];
    if (before !== undefined && !isDue(before, at, celsius)) continue;
    const memory = editPattern(draft, pattern.key, () => newPattern(Math.min(pattern.madeAt, at), celsius));
    advance(memory, pattern, at, celsius);
    if (memory.outlook !== null && at - memory.outlookAt < OUTLOOK_MILLIS) continue;
    memory.outlookAt = at;
    memory.outlook = outlookOf(draft.parts, pattern, memory);
    evaluatePattern(draft, pattern, memory, memory.outlook, moment);
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

function outlookOf(state: WatchState, plan: PatternPlan, memory: PatternMemory): PatternOutlook {
  const facts = factsOf(plan, memory);
  const { relaxation } = memory;
  const error = predictedError(relaxation, facts, plan.wax, plan.params);
  // The greatest swing of a history stays open until a greater one closes it.
  const open = rainflowResidue(memory.rainflow).filter(({ range }) => range >= LEAST_SWING);
  const tolerance = plan.pattern.tolerance_micrometres as Micrometres;
  const lastDay = closedHistory(state, historyKey(plan.station)).map(meanOf);
  const due = dueInstants(relaxation, facts, plan.wax, plan.params, tolerance, lastDay, TEN_MINUTES_MILLIS);
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

function evaluatePattern(
  draft: Draft,
  { pattern }: PatternPlan,
  memory: PatternMemory,
  outlook: PatternOutlook,
  moment: Moment,
): void {
  for (const planned of draft.plan.patternRules) {
    const evaluation = planned.rule.evaluate(
      { pattern, outlook, at: moment.at },
      planned.values,
      memory.conditions[planned.rule.kind]?.phase === 'on',
    );
    const judgement = judge(memory.conditions, planned, pattern.id, evaluation, moment, () => null);
    if (judgement !== null) applyJudgements(draft, [judgement]);
    hideAlarm(draft, planned.rule, pattern.id, null, moment.at);
  }
}

const NO_PATTERNS: readonly PatternOutlook[] = [];

/** The newest outlooks of the patterns at a station, as the rules see them. */
export const outlooksAt = (state: WatchState, { patterns }: StationPlan): readonly PatternOutlook[] =>
  patterns.length === 0 ? NO_PATTERNS : patterns.flatMap(({ key }) => state[key]?.outlook ?? []);

/**
 * Worked out anew from what is remembered, for screens and sheets, of all patterns or of the one that is asked for;
 * patterns without a reading are left out.
 */
export const patternOutlooks = (
  state: WatchState,
  plan: LabPlan,
  asked?: string,
): readonly PatternOutlook[] =>
  plan.patterns.flatMap((pattern) => {
    const memory = asked === undefined || pattern.pattern.id === asked ? state[pattern.key] : undefined;
    return memory === undefined ? [] : [outlookOf(state, pattern, memory)];
  });
