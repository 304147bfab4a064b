// What people do: to alarms by their life, to stations and patterns by what the rules must know of it.

import type { Act, AlarmAct } from '../../lab/act.ts';
import { ALL_RULES } from '../rules/all-rules.ts';
import { stepAlarm } from './tell.ts';
import { alarmsOf, type Work } from './work.ts';

export function takeAct(work: Work, act: Act): void {
  if ('alarm' in act) takeAlarmAct(work, act);
}

function takeAlarmAct(work: Work, act: AlarmAct): void {
  for (const [subject, alarms] of Object.entries(alarmsOf(work.parts)))
    for (const alarm of Object.values(alarms)) {
      if (alarm.id !== act.alarm) continue;
      const rule = ALL_RULES.find(({ kind }) => kind === alarm.rule);
      if (rule === undefined) continue;
      const refusal = stepAlarm(work, rule, subject, { type: 'act', at: work.receivedAt, act });
      if (refusal !== undefined) work.refusals.push(refusal);
      return;
    }
  work.refusals.push({
    code: 'alarm-not-open',
    message: `There is no open alarm "${act.alarm}". It may be over; its history is in the archive.`,
  });
}
