// What people do: to alarms by their life, to stations by what the rules must know of it. Where patterns lie is the
// lab's own record; their acts change nothing here.

import type { Act, AlarmAct, StationAct } from '../../../lab/act.ts';
import type { SelfCheckEntry } from '../../../lab/entry.ts';
import type { Refusal } from '../life/refusal.ts';
import { loadIn } from '../measures/load.ts';
import { RULES } from '../rules/all-rules.ts';
import { takeChargeAct } from './charge-acts.ts';
import { staleMillis } from './freshness.ts';
import type { StationPlan } from './lab-plan.ts';
import type { StationMemory } from './memory.ts';
import { lookAtStation } from './station-look.ts';
import { judge, SITE, stepAlarm } from './tell.ts';
import { allAlarms, conditionsOfSite, editSite, editStation, type Work } from './work.ts';

export function takeAct(work: Work, act: Act): void {
  if ('alarm' in act) takeAlarmAct(work, act);
  else if ('pattern' in act) return;
  else takeStationAct(work, act);
}

function takeAlarmAct(work: Work, act: AlarmAct): void {
  const alarm = allAlarms(work.parts).find(({ id }) => id === act.alarm);
  if (alarm !== undefined) {
    const event = { type: 'act' as const, at: work.receivedAt, act };
    const refusal = stepAlarm(work, RULES[alarm.rule], alarm.subject, event);
    if (refusal !== undefined) work.refusals.push(refusal);
    return;
  }
  work.refusals.push({
    code: 'alarm-not-open',
    message: `There is no open alarm "${act.alarm}". It may be over; its history is in the archive.`,
  });
}

function takeStationAct(work: Work, act: StationAct): void {
  const plan = work.plan.stations.get(act.station);
  if (plan === undefined) {
    work.refusals.push({
      code: 'unknown-station',
      message: `The lab has no station "${act.station}". Choose one of the list.`,
    });
    return;
  }
  const memory = editStation(work, plan.partName);
  const refusal = record(work, plan, memory, act);
  if (refusal !== null) work.refusals.push(refusal);
  if (refusal !== null || memory.at === 0) return;
  const at = work.receivedAt;
  lookAtStation(work, plan, memory, { at, tense: 'now', afterGap: at - memory.at > staleMillis(memory) });
}

function record(work: Work, plan: StationPlan, memory: StationMemory, act: StationAct): Refusal | null {
  const at = work.receivedAt;
  switch (act.type) {
    case 'charge-changed':
    case 'topped-up':
    case 'cleaned':
    case 'charge-taken-back':
      return takeChargeAct(work, plan, memory, act);
    case 'planned-off':
      memory.plannedOff = true;
      memory.plannedOnAt = null;
      return null;
    case 'planned-on':
      memory.plannedOff = false;
      memory.plannedOnAt = at;
      return null;
    case 'load-in':
      memory.load = loadIn(act.load, at);
      return null;
    case 'load-out':
      if (memory.load !== null) memory.load = { ...memory.load, takenOutAt: at };
      return null;
  }
}

/** The running process tells of itself: one condition for each part, and one for each channel. */
export function takeSelfCheck(work: Work, check: SelfCheckEntry): void {
  const subject = check.part === 'channel' ? `channel-${check.name}` : SITE;
  for (const planned of work.plan.selfRules) {
    if (planned.rule.part !== check.part) continue;
    const look = planned.rule.look({ ...check, at: work.receivedAt }, planned.values);
    if (typeof look === 'string' && conditionsOfSite(work.parts, subject)[planned.rule.kind] === undefined)
      continue;
    const moment = { at: work.receivedAt, tense: 'now' as const, afterGap: false };
    judge(work, editSite(work, subject), planned, subject, look, moment, () => null);
  }
}
