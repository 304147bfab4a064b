// Why the figures are what they are, case by case: for whoever looks for the cause of a miss or of a nuisance.

import type { JudgedCase } from './judge-case.ts';
import type { Beginning } from './run-case.ts';

const instant = (millis: number | null): string | null =>
  millis === null ? null : new Date(millis).toISOString();

const alarmOf = ({ rule, subject, at, notifiedAt, priority, tense, evidence }: Beginning) => ({
  rule,
  subject,
  at: instant(at),
  notified: instant(notifiedAt),
  priority,
  tense,
  evidence,
});

const tenth = (minutes: number | null): number | null =>
  minutes === null ? null : Math.round(minutes * 10) / 10;

export const detailsOf = ({ name, score, withoutSetting }: JudgedCase) => ({
  case: name,
  faults: score.faults.map(({ first, begins, harm, ends, leadMinutes, delayMinutes, ...fault }) => ({
    ...fault,
    begins: instant(begins),
    harm: instant(harm),
    ends: instant(ends),
    lead_minutes: tenth(leadMinutes),
    delay_minutes: tenth(delayMinutes),
    first: first === null ? null : alarmOf(first),
  })),
  nuisances: score.nuisances.map(alarmOf),
  chatters: score.chatters.map((chatter) => ({ ...chatter, from: instant(chatter.from) })),
  good_station_hours: Math.round(score.goodStationHours * 100) / 100,
  without_setting: withoutSetting,
});
