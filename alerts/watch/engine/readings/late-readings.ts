// What readings that come late reveal: they count in the dose where nothing was known, and what they show together is
// announced as past, once no more of them come. They never raise an alarm.

import type { Reading } from '../../../../lab/reading.ts';
import { epochMillis, MILLIS_PER_MINUTE } from '../../../../wax/units.ts';
import { chargeDoseLate } from '../../measures/charge-dose.ts';
import type { Holding } from '../../rule/condition-timer.ts';
import type { RuleKind } from '../../rules/all-rules.ts';
import { announcePast, identityOf } from '../findings/alarms.ts';
import { countCharges } from '../acts/charge-acts.ts';
import { type Draft, editStation, stationOf } from '../state/draft.ts';
import { causeOf, isQuiet } from '../findings/evaluate.ts';
import type { ProbePlan, StationPlan } from '../state/lab-plan.ts';
import type { PlannedRule } from '../state/planned-rules.ts';
import { stationInput } from '../findings/station-input.ts';
import type { PastSpan, StationMemory } from '../state/memory.ts';

/** Rules that a reading can decide without those before it. */
const DECIDED_BY_ONE_READING: readonly RuleKind[] = ['fire-risk', 'over-ceiling', 'storage-warm'];
/** Readings this far apart are of one span. */
const SPAN_GAP_MILLIS = 10 * MILLIS_PER_MINUTE;
/** A bunch is whole when nothing more came for so long. */
const WHOLE_AFTER_MILLIS = MILLIS_PER_MINUTE;

export function takeLateReading(draft: Draft, plan: ProbePlan, reading: Reading): void {
  const { at, celsius } = reading;
  const { station } = plan;
  const memory = editStation(draft, station);
  countCharges(draft.lab, station, memory, (charge, wax) => chargeDoseLate(charge, at, celsius, wax));
  const then = { ...memory, at, celsius, uncertainty: plan.probe.uncertainty_celsius };
  const input = stationInput(draft.lab, station, then, draft.parts);
  let isCovered = false;
  for (const planned of station.rules) {
    const { rule, values } = planned;
    if (!DECIDED_BY_ONE_READING.includes(rule.kind)) continue;
    const before = memory.past?.[rule.kind];
    const isSame =
      before !== undefined && at >= before.from - SPAN_GAP_MILLIS && at <= before.to + SPAN_GAP_MILLIS;
    // What is worse covers the lesser rules too: first cause first. What they held for goes on meanwhile.
    if (isCovered) {
      if (isSame) memory.past = { ...memory.past, [rule.kind]: reachingTo(before, at, draft.receivedAt) };
      continue;
    }
    const evaluation = rule.evaluate(input, values, false);
    if (typeof evaluation === 'string') continue;
    if (before !== undefined && !isSame) announceSpan(draft, station, planned, before);
    const span = extendSpan(isSame ? before : undefined, at, evaluation, draft.receivedAt);
    memory.past = { ...memory.past, [rule.kind]: span };
    isCovered = true;
  }
}

const reachingTo = (span: PastSpan, at: Reading['at'], learnedAt: PastSpan['learnedAt']): PastSpan => ({
  ...span,
  from: epochMillis(Math.min(span.from, at)),
  to: epochMillis(Math.max(span.to, at)),
  learnedAt,
});

function extendSpan(
  span: PastSpan | undefined,
  at: Reading['at'],
  { evidence, worst = 0 }: Holding,
  learnedAt: PastSpan['learnedAt'],
): PastSpan {
  if (span === undefined)
    return { from: at, to: at, samples: 1, worst, evidence, learnedAt, isAnnounced: false };
  return {
    ...reachingTo(span, at, learnedAt),
    samples: span.samples + 1,
    isAnnounced: false,
    ...(worst > span.worst ? { worst, evidence } : { worst: span.worst, evidence: span.evidence }),
  };
}

/** Announces what was so and is known by now, by late readings or by a backlog after which nothing came. */
export function announceWhatWas(draft: Draft): void {
  for (const plan of draft.plan.stations.values()) {
    const memory = stationOf(draft, plan);
    if (memory === undefined) continue;
    if (memory.past !== undefined) announceSpans(draft, plan, memory.past);
    if (!isQuiet(memory.conditions)) announceUnended(draft, plan, memory);
  }
}

function announceSpans(draft: Draft, plan: StationPlan, past: NonNullable<StationMemory['past']>): void {
  for (const planned of plan.rules) {
    const { kind } = planned.rule;
    const span = past[kind];
    if (span === undefined || span.isAnnounced) continue;
    if (draft.receivedAt - span.learnedAt < WHOLE_AFTER_MILLIS) continue;
    announceSpan(draft, plan, planned, span);
    const own = editStation(draft, plan);
    own.past = { ...own.past, [kind]: { ...span, isAnnounced: true } };
  }
}

function announceSpan(draft: Draft, { station }: StationPlan, planned: PlannedRule, span: PastSpan): void {
  const { rule, times } = planned;
  const { from, to, samples, evidence, isAnnounced } = span;
  if (isAnnounced || samples < times.fewestSamples || to - from < times.onDelayMillis) return;
  const spanned = { evidence, since: from, at: to };
  draft.findings.push({ ...identityOf(rule, station.id), ...spanned, tense: 'learned', phase: 'ends' });
  announcePast(draft, rule, station.id, spanned);
}

/** A backlog ended while the condition held, and it is not known how it went on. */
function announceUnended(draft: Draft, plan: StationPlan, memory: StationMemory): void {
  for (const kind in memory.conditions) {
    const condition = memory.conditions[kind as RuleKind];
    if (condition?.phase !== 'on' || condition.tense !== 'learned' || condition.isAnnounced) continue;
    const planned = plan.rules.find(({ rule }) => rule.kind === kind);
    if (planned === undefined || causeOf(memory.conditions, planned.rule.hiddenBehind) !== null) continue;
    const newestArrival = Math.max(...plan.probes.map(({ key }) => draft.parts[key]?.receivedAt ?? 0));
    if (draft.receivedAt - newestArrival < WHOLE_AFTER_MILLIS) continue;
    const { evidence, since } = condition;
    announcePast(draft, planned.rule, plan.station.id, { evidence, since, at: epochMillis(memory.at) });
    editStation(draft, plan).conditions[planned.rule.kind] = { ...condition, isAnnounced: true };
  }
}
