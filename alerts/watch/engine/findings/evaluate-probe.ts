// The rules about a probe itself, over its own readings and those of its twins.

import { stores } from '../../../../lab/station-kinds.ts';
import { MILLIS_PER_MINUTE } from '../../../../wax/units.ts';
import type { HeaterBand } from '../../measures/heater-band.ts';
import { expectedMove, followedBefore } from '../../measures/move-around.ts';
import type { Evaluation } from '../../rule/condition-timer.ts';
import type { ProbeInput } from '../../rule/rule-input.ts';
import type { ProbeRule } from '../../rule/rule.ts';
import type { RuleKind } from '../../rules/all-rules.ts';
import { alarmsOf, applyJudgements, hasAlarms, hideAlarm, isHiddenBy, type Judgement } from './alarms.ts';
import { closedHistory, type Draft } from '../state/draft.ts';
import { causeOf, isAllShown, isOn, isPassing, isQuiet, judge, type Moment } from './evaluate.ts';
import { deliversEvery, freshProbes } from '../state/freshness.ts';
import type { ProbePlan, StationPlan } from '../state/lab-plan.ts';
import type { PlannedRule } from '../state/planned-rules.ts';
import { type ProbeMemory, probeKey, type StationMemory } from '../state/memory.ts';
import { drawProbeBounds, isProbeQuiet } from '../state/quiet-probe.ts';

const NO_TWINS: ProbeInput['twins'] = [];
/** An older value of another place proves nothing about now. */
const FRESH_MILLIS = 15 * MILLIS_PER_MINUTE;

export function evaluateProbe(
  draft: Draft,
  plan: ProbePlan,
  memory: ProbeMemory,
  station: StationMemory,
  moment: Moment,
): void {
  const { conditions } = memory;
  const quiet = isQuiet(conditions);
  if (
    quiet &&
    isProbeQuiet(draft.quiet.probes[plan.index], memory, moment.at) &&
    !hasAlarms(draft, plan.alarmsKey)
  )
    return;
  const { id } = plan.probe;
  const isHot = station.activity?.kind === 'hot';
  const input = new MeasuredProbe(plan, memory, moment.at, isHot, memory.receivedAt, draft);
  let isCalm = quiet;
  let judgements: Judgement[] | null = null;
  for (const planned of plan.station.probeRules) {
    const { kind } = planned.rule;
    const evaluation = planned.rule.evaluate(input, planned.values, !quiet && isOn(conditions, kind));
    if (typeof evaluation === 'string' && (quiet || conditions[kind] === undefined)) continue;
    isCalm = false;
    const judgement = judgeProbe(id, planned, memory, station, evaluation, moment);
    if (judgement === null) continue;
    judgements ??= [];
    judgements.push(judgement);
  }
  if (isCalm) draft.quiet.probes[plan.index] = drawProbeBounds(plan, memory, input);
  if (judgements !== null) applyJudgements(draft, judgements);
  if (!hasAlarms(draft, plan.alarmsKey)) return;
  const open = alarmsOf(draft, plan.alarmsKey);
  if (isAllShown(conditions, open)) return;
  for (const { rule } of plan.station.probeRules) {
    const holds = conditions[rule.kind] !== undefined;
    const alarm = open[rule.kind];
    if (!holds && alarm === undefined) continue;
    const reason = holds ? causeOf(station.conditions, rule.hiddenBehind) : null;
    if (isHiddenBy(alarm, reason)) continue;
    if (reason !== null || !isPassing(conditions, rule.kind)) hideAlarm(draft, rule, id, reason, moment.at);
  }
}

const twinsOf = (draft: Draft, { probe, station }: ProbePlan, at: number): ProbeInput['twins'] =>
  station.probes.length === 1
    ? NO_TWINS
    : freshProbes(station, draft.parts, at).filter(({ id }) => id !== probe.id);

/** Apart from the loop, where what it captures would be allocated for every rule of every reading. */
const judgeProbe = (
  id: string,
  planned: PlannedRule<ProbeRule<RuleKind>>,
  { conditions }: ProbeMemory,
  station: StationMemory,
  evaluation: Evaluation,
  moment: Moment,
): Judgement | null =>
  judge(conditions, planned, id, evaluation, moment, () =>
    causeOf(station.conditions, planned.rule.hiddenBehind),
  );

/** Read off plan and memory when a rule needs it. */
class MeasuredProbe implements ProbeInput {
  readonly #plan: ProbePlan;
  readonly #memory: ProbeMemory;
  readonly at: number;
  readonly isAtWork: boolean;
  readonly silentSince: number;
  readonly #draft: Draft | null;

  constructor(
    plan: ProbePlan,
    memory: ProbeMemory,
    at: number,
    isAtWork: boolean,
    silentSince: number,
    draft: Draft | null,
  ) {
    this.#plan = plan;
    this.#memory = memory;
    this.at = at;
    this.isAtWork = isAtWork;
    this.silentSince = silentSince;
    this.#draft = draft;
  }

  get probe() {
    return this.#plan.probe.id;
  }
  get station() {
    return this.#plan.station.station;
  }
  get gateway() {
    return this.#plan.probe.gateway;
  }
  get celsius() {
    return this.#memory.celsius;
  }
  get newestAt() {
    return this.#memory.at;
  }
  get periodSeconds() {
    return this.#memory.periodSeconds;
  }
  get deliversEverySeconds() {
    return deliversEvery(this.#memory);
  }
  get goneAt() {
    return this.#memory.goneAt ?? null;
  }
  get uncertainty() {
    return this.#plan.probe.uncertainty_celsius;
  }
  get signal() {
    return this.#memory.signal;
  }
  get mayBeHeldSteady() {
    return this.#draft === null || mayBeHeldSteady(this.#draft.parts[this.#plan.station.key]?.band ?? null);
  }
  get isAlone() {
    return this.#plan.station.probes.length === 1;
  }
  get twins() {
    return this.#draft === null ? NO_TWINS : twinsOf(this.#draft, this.#plan, this.at);
  }
  get apart() {
    return this.#memory.apart ?? null;
  }
  apartOfTwins() {
    return this.twins.flatMap(({ id }) => this.#draft?.parts[probeKey(id)]?.apart ?? []);
  }
  get calibrationDue() {
    return this.#plan.probe.calibrationDue ?? null;
  }

  expectedMove(since: number): number | null {
    return this.#draft === null ? null : leastExpectedMove(this.#draft, this.#plan.station, since);
  }
}

/** Cycles before it is known that its thermostat turns it off and on. */
const FEWEST_CYCLES = 4;
const mayBeHeldSteady = (band: HeaterBand | null): boolean => {
  const lastCycle = band?.cycles.at(-1)?.at ?? 0;
  return (band?.cycles.length ?? 0) < FEWEST_CYCLES || (band?.stretches?.at(-1)?.at ?? 0) > lastCycle;
};

/** Kelvins; what moved by less proves nothing, and nobody asks whether it moved alone. */
const LEAST_MOVE = 0.5;
/** Behind a door a place moves later and less; by less than this share of what another does it has not moved at all. */
const NOT_MOVED_SHARE = 1 / 3;

/** What places with a fresh value, with or without a door, let one expect of this one since. */
function expectedMoves(
  { parts, plan }: Draft,
  place: StationPlan,
  since: number,
  hasDoor: boolean,
): readonly number[] {
  const own = closedHistory(parts, place.historyKey);
  const at = parts[place.key]?.at ?? since;
  const moves: number[] = [];
  for (const { historyKey, key, kindFacts, station } of plan.stations.values()) {
    if (key === place.key || !stores(station.kind) || kindFacts.hasDoor !== hasDoor) continue;
    if (at - (parts[key]?.at ?? 0) > FRESH_MILLIS) continue;
    const around = closedHistory(parts, historyKey);
    // Air that is regulated follows no room.
    const move = hasDoor && !followedBefore(own, around, since) ? null : expectedMove(own, around, since);
    if (move !== null) moves.push(move);
  }
  return moves;
}

/**
 * By the place without a door that moved least. One alone may have moved by itself, as a shelf in the sun does: then none of
 * those behind a door moved.
 */
function leastExpectedMove(draft: Draft, place: StationPlan, since: number): number | null {
  const open = expectedMoves(draft, place, since, false);
  if (open.length === 0) return null;
  const least = Math.min(...open);
  if (open.length > 1 || least < LEAST_MOVE) return least;
  const behindDoors = expectedMoves(draft, place, since, true);
  const most = behindDoors.length === 0 ? least : Math.max(...behindDoors);
  return most < NOT_MOVED_SHARE * least ? most : least;
}

/** For the rules of passing time; `silentSince`: from when its silence counts; `wasHot`: when it was last seen. */
export const silentProbe = (
  plan: ProbePlan,
  memory: ProbeMemory,
  at: number,
  silentSince: number,
  wasHot: boolean,
): ProbeInput => new MeasuredProbe(plan, memory, at, wasHot, silentSince, null);
