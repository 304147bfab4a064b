// Waiting patterns: the heat that each lay in is remembered here; where it lies, what was done to it and whether it still
// waits is the lab's to enter. Its verdict is as of the last whole ten minutes, or of the newest act, on every screen alike.

import { epochMillis } from '../../../../wax/units.ts';
import { patternVerdict } from '../../../../lab/patterns/pattern-verdict.ts';
import { heatSums } from '../../measures/heat-sums.ts';
import { coursePoints, withReading } from '../../measures/pattern-heat.ts';
import { meanOf, startOfTenMinutes, TEN_MINUTES_MILLIS } from '../../measures/ten-minutes.ts';
import type { PatternOutlook } from '../../measures/pattern-outlook.ts';
import { applyJudgements, hideAlarm } from './alarms.ts';
import { closedHistory, type Draft, editPattern, putCourse } from '../state/draft.ts';
import { judge, type Moment } from './evaluate.ts';
import type { LabPlan, PatternPlan, StationPlan } from '../state/lab-plan.ts';
import type { PlannedRule } from '../state/planned-rules.ts';
import {
  historyKey,
  createPatternMemory,
  type PatternMemory,
  type StationMemory,
  type WatchState,
} from '../state/memory.ts';

/** A pattern takes a reading in when the last is this old or the temperature has moved by this. */
const STEP_MILLIS = 60_000;
const STEP_CELSIUS = 0.25;

/** Takes the present value of a storage place into the patterns that lie there, and evaluates their rules. */
export function stepPatterns(
  draft: Draft,
  plan: StationPlan,
  { at, celsius }: StationMemory,
  moment: Moment,
): void {
  for (const pattern of plan.patterns) {
    const before = draft.parts[pattern.key];
    if (before !== undefined && !isDue(before, pattern, at, celsius)) continue;
    const memory = editPattern(draft, pattern.key, () => createPatternMemory(pattern.stayFrom));
    if (memory.stayFrom !== pattern.stayFrom) placeAnew(draft, memory, pattern, at);
    else if (at - memory.at > TEN_MINUTES_MILLIS) takeHistory(draft, memory, pattern, at);
    if (at > memory.at) takeHeat(draft, memory, pattern, at, celsius);
    evaluatePattern(draft, pattern, memory, moment);
  }
}

/** Places that are silent, or have no probe: time passes for their patterns all the same. */
export function passTimeForPatterns(draft: Draft, moment: Moment): void {
  for (const pattern of draft.plan.patterns) {
    const before = draft.parts[pattern.key];
    const isFresh = moment.at - (before?.outlook?.verdict.at ?? 0) < 2 * TEN_MINUTES_MILLIS;
    if (isFresh && !isOfThePast(before)) continue;
    const memory = editPattern(draft, pattern.key, () => createPatternMemory(pattern.stayFrom));
    if (before === undefined) takeHistory(draft, memory, pattern, moment.at);
    evaluatePattern(draft, pattern, memory, moment);
  }
}

/** A backlog reported something as past; when it still holds it is present. */
const isOfThePast = (memory: PatternMemory | undefined): boolean =>
  Object.values(memory?.conditions ?? {}).some(
    (condition) => condition.phase === 'on' && condition.tense === 'learned',
  );

const isDue = (memory: PatternMemory, { stayFrom }: PatternPlan, at: number, celsius: number): boolean =>
  memory.stayFrom !== stayFrom ||
  (at > memory.at && (at - memory.at >= STEP_MILLIS || Math.abs(celsius - memory.celsius) >= STEP_CELSIUS));

function takeHeat(
  draft: Draft,
  memory: PatternMemory,
  { courseKey }: PatternPlan,
  at: number,
  celsius: number,
): void {
  const points = draft.parts[courseKey] ?? [];
  const last = memory.at === 0 ? null : { at: memory.at, celsius: memory.celsius };
  const next = withReading(points, last, at, celsius);
  if (next !== points) putCourse(draft, courseKey, next);
  memory.at = at;
  memory.celsius = celsius;
}

/** It was laid here earlier than was known: what it went through since then is that of this place. */
function placeAnew(draft: Draft, memory: PatternMemory, plan: PatternPlan, at: number): void {
  memory.stayFrom = plan.stayFrom;
  if (memory.at - plan.stayFrom < STEP_MILLIS) return;
  const before = (draft.parts[plan.courseKey] ?? []).filter(([when]) => when < plan.stayFrom);
  const newest = before.at(-1);
  putCourse(draft, plan.courseKey, before);
  memory.at = newest?.[0] ?? memory.carried?.relaxation.at ?? 0;
  memory.celsius = newest?.[1] ?? memory.carried?.relaxation.celsius ?? 0;
  takeHistory(draft, memory, plan, at);
}

/** What its place measured while it lay there and nobody knew: registered or laid there late, or an end taken back. */
function takeHistory(draft: Draft, memory: PatternMemory, plan: PatternPlan, at: number): void {
  if (plan.station === null) return;
  for (const stretch of closedHistory(draft.parts, historyKey(plan.station))) {
    const mean = meanOf(stretch);
    if (mean.at > plan.stayFrom && mean.at < at && stretch.at >= memory.at)
      takeHeat(draft, memory, plan, mean.at, mean.celsius);
  }
}

/** The last whole ten minutes, or what came later: the newest act, or the first reading of its life. */
const verdictInstant = (
  state: WatchState,
  { courseKey, pattern: { acts = [], stays, madeAt } }: PatternPlan,
  { at: newestReading, carried }: PatternMemory,
  at: number,
): number =>
  Math.max(
    startOfTenMinutes(at),
    carried === null ? (state[courseKey]?.[0]?.[0] ?? newestReading) : 0,
    ...[madeAt, stays.at(-1)?.from ?? madeAt, ...acts.map(({ recordedAt }) => recordedAt)].map(Date.parse),
  );

function outlookOf(state: WatchState, plan: PatternPlan, memory: PatternMemory, at: number): PatternOutlook {
  const { pattern, wax, params, care, station, storageMax } = plan;
  const { carried } = memory;
  const course = state[plan.courseKey] ?? [];
  const points = coursePoints(course, memory, at);
  const heat = { points, ...(carried !== null && { carried: carried.relaxation }) };
  const lastDay = station === null ? [] : closedHistory(state, historyKey(station)).map(meanOf);
  const verdict = patternVerdict({
    pattern,
    heat,
    wax,
    params,
    care,
    at: epochMillis(at),
    lastDay,
    lastDayWidthMillis: TEN_MINUTES_MILLIS,
  });
  return {
    pattern: pattern.id,
    station,
    verdict,
    ...heatSums(course, memory, at, { madeAt: plan.madeAt, storageMax, carried }),
    tooWarm: verdict.celsius !== null && verdict.celsius > storageMax,
    storageMax,
  };
}

/** Of which pattern, as the lab has it, an outlook is: an act that is undone changes the verdict of the same instant. */
const judgedPattern = new WeakMap<PatternOutlook, PatternPlan['pattern']>();

/** One that was stored is of the pattern that is met first: a restart in between must not judge otherwise. */
function isOf(outlook: PatternOutlook, pattern: PatternPlan['pattern']): boolean {
  const judged = judgedPattern.get(outlook) ?? pattern;
  judgedPattern.set(outlook, judged);
  return judged === pattern;
}

function evaluatePattern(draft: Draft, plan: PatternPlan, memory: PatternMemory, moment: Moment): void {
  const at = verdictInstant(draft.parts, plan, memory, Math.max(moment.at, memory.at));
  const { pattern } = plan;
  const { outlook: judged } = memory;
  const isJudged = judged?.verdict.at === at && isOf(judged, pattern);
  if (isJudged && !isOfThePast(memory)) return;
  const outlook = outlookOf(draft.parts, plan, memory, at);
  judgedPattern.set(outlook, pattern);
  memory.outlook = outlook;
  for (const planned of draft.plan.patternRules) {
    const condition = memory.conditions[planned.rule.kind];
    const evaluation = planned.rule.evaluate(
      { pattern, outlook, at: moment.at },
      planned.values,
      condition?.phase === 'on',
    );
    const shown = condition?.phase === 'on' ? condition.evidence : undefined;
    const isNews = typeof evaluation !== 'string' && !isShownAlike(shown, evaluation.evidence);
    const judgement = judge(
      memory.conditions,
      isNews ? withEveryUpdate(planned) : planned,
      pattern.id,
      evaluation,
      moment,
      () => null,
    );
    if (judgement !== null) applyJudgements(draft, [judgement]);
    hideAlarm(draft, planned.rule, pattern.id, null, moment.at);
  }
}

type Shown = Readonly<Record<string, number | string>>;

/** To whole units, as it is worded: an alarm shows the same as every other screen. */
const isShownAlike = (shown: Shown | undefined, evidence: Shown): boolean =>
  shown !== undefined &&
  Object.entries(evidence).every(([name, value]) =>
    typeof value === 'number' ? Math.round(value) === Math.round(Number(shown[name])) : value === shown[name],
  );

const withEveryUpdate = <Planned extends PlannedRule>(planned: Planned): Planned => ({
  ...planned,
  times: { ...planned.times, updateStep: Number.NEGATIVE_INFINITY },
});

const NO_PATTERNS: readonly PatternOutlook[] = [];

/** The newest outlooks of the patterns at a station, as the rules see them. */
export const outlooksAt = (state: WatchState, { patterns }: StationPlan): readonly PatternOutlook[] =>
  patterns.length === 0 ? NO_PATTERNS : patterns.flatMap(({ key }) => state[key]?.outlook ?? []);

interface Remembered {
  readonly plan: PatternPlan;
  readonly outlook: PatternOutlook;
}
/** A memory that was handed out is never changed, so what was worked out from it stays. */
const remembered = new WeakMap<PatternMemory, Remembered>();

export interface AskedOutlook {
  readonly pattern?: string;
  /** An instant of the past; what was done or measured later is not seen. */
  readonly asOf?: number | undefined;
}

/** As of the last whole ten minutes, of all patterns that wait or of a single one. */
export const patternOutlooks = (
  state: WatchState,
  plan: LabPlan,
  now: number,
  { pattern: asked, asOf }: AskedOutlook = {},
): readonly PatternOutlook[] =>
  plan.patterns
    .filter(({ pattern }) => asked === undefined || pattern.id === asked)
    .map((pattern) => {
      const memory = state[pattern.key] ?? createPatternMemory(pattern.stayFrom);
      if (asOf !== undefined && asOf < startOfTenMinutes(now)) return outlookOf(state, pattern, memory, asOf);
      const at = verdictInstant(state, pattern, memory, now);
      const judged = remembered.get(memory);
      if (judged?.plan === pattern && judged.outlook.verdict.at === at) return judged.outlook;
      const outlook = outlookOf(state, pattern, memory, at);
      remembered.set(memory, { plan: pattern, outlook });
      return outlook;
    });
