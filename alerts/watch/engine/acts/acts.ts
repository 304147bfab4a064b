// What people do: to alarms by their life, to stations by what bears on the rules. Where patterns lie and
// which probes there are is the lab's own record; such acts change nothing here.

import type { Act, AlarmAct, StationAct } from '../../../../lab/act.ts';
import type { SelfCheckEntry } from '../../../../lab/entry.ts';
import { ENDED_SHOWN_MILLIS, type Intent } from '../../../../lab/intent.ts';
import type { Refusal } from '../../life/refusal.ts';
import { loadIn } from '../../measures/load.ts';
import { RULES } from '../../rules/all-rules.ts';
import { takeChargeAct } from './charge-acts.ts';
import { applyJudgements, SITE, stepAlarm } from '../findings/alarms.ts';
import {
  openAlarms,
  type Draft,
  editSiteConditions,
  editStation,
  siteConditions,
  stationOf,
} from '../state/draft.ts';
import { judge } from '../findings/evaluate.ts';
import { evaluateStation } from '../findings/evaluate-station.ts';
import { staleMillis } from '../state/freshness.ts';
import type { StationPlan } from '../state/lab-plan.ts';
import type { StationMemory } from '../state/memory.ts';

export function takeAct(draft: Draft, act: Act): void {
  if ('alarm' in act) takeAlarmAct(draft, act);
  else if ('pattern' in act || 'probes' in act) return;
  else takeStationAct(draft, act);
}

function takeAlarmAct(draft: Draft, act: AlarmAct): void {
  const alarm = openAlarms(draft).find(({ id }) => id === act.alarm);
  if (alarm !== undefined) {
    const event = { type: 'act' as const, at: draft.receivedAt, act };
    const refusal = stepAlarm(draft, RULES[alarm.rule], alarm.subject, event);
    if (refusal !== undefined) draft.refusals.push(refusal);
    return;
  }
  draft.refusals.push({ code: 'alarm-not-open' });
}

function takeStationAct(draft: Draft, act: StationAct): void {
  const plan = draft.plan.stations.get(act.station);
  if (plan === undefined) {
    draft.refusals.push({ code: 'unknown-station', values: { id: act.station } });
    return;
  }
  const memory = editStation(draft, plan);
  const refusal = record(draft, plan, memory, act);
  if (refusal !== null) draft.refusals.push(refusal);
  draft.stations.add(plan.station.id);
  if (refusal !== null || memory.at === 0) return;
  const at = draft.receivedAt;
  const moment = { at, tense: 'now' as const, afterGap: at - memory.at > staleMillis(plan, draft.parts) };
  evaluateStation(draft, plan, memory, moment);
}

function record(draft: Draft, plan: StationPlan, memory: StationMemory, act: StationAct): Refusal | null {
  const at = draft.receivedAt;
  switch (act.type) {
    case 'charge-changed':
    case 'topped-up':
    case 'cleaned':
    case 'charge-taken-back':
      return takeChargeAct(draft, plan, memory, act);
    case 'planned-off':
      memory.plannedOff = true;
      memory.plannedOnAt = null;
      return null;
    case 'planned-on':
      memory.plannedOff = false;
      memory.plannedOnAt = at;
      return null;
    case 'intent':
      memory.intents = [
        ...otherIntents(memory, act.kind),
        { kind: act.kind, by: act.by, since: at, until: act.until },
      ];
      return null;
    case 'intent-ended':
      memory.intents = otherIntents(memory, act.kind);
      return null;
    case 'load-in':
      memory.load = loadIn(act.load, at);
      return null;
    case 'load-out':
      if (memory.load !== null) memory.load = { ...memory.load, takenOutAt: at };
      return null;
  }
}

const otherIntents = ({ intents = [] }: StationMemory, kind: Intent['kind']): readonly Intent[] =>
  intents.filter((intent) => intent.kind !== kind);

/** Forgets what people meant for a while, once it was shown long enough that its time is up. */
export function forgetEndedIntents(draft: Draft): void {
  for (const plan of draft.plan.stations.values()) {
    const intents = stationOf(draft, plan)?.intents;
    if (intents === undefined) continue;
    const isRemembered = ({ until }: Intent): boolean => until + ENDED_SHOWN_MILLIS > draft.receivedAt;
    if (intents.every(isRemembered)) continue;
    editStation(draft, plan).intents = intents.filter(isRemembered);
  }
}

/** What the running process found of itself: one condition for each part, and one for each channel. */
export function takeSelfCheck(draft: Draft, check: SelfCheckEntry): void {
  const subject = check.part === 'channel' ? `channel-${check.name}` : SITE;
  for (const planned of draft.plan.selfRules) {
    const { evaluate, kind, part } = planned.rule;
    if (part !== check.part) continue;
    const evaluation = evaluate(
      { ...check, at: draft.receivedAt },
      planned.values,
      siteConditions(draft.parts, subject)?.[kind]?.phase === 'on',
    );
    if (typeof evaluation === 'string' && siteConditions(draft.parts, subject)?.[kind] === undefined)
      continue;
    const moment = { at: draft.receivedAt, tense: 'now' as const, afterGap: false };
    const conditions = editSiteConditions(draft, subject);
    const judgement = judge(conditions, planned, subject, evaluation, moment, () => null);
    if (judgement !== null) applyJudgements(draft, [judgement]);
  }
}
