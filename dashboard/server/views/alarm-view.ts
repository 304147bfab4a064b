// An alarm as it crosses the wire: its facts, its state by letter and word, its text and its history.

import type { Alarm } from '../../../alerts/life/alarm.ts';
import { ALARM_STATE_WORDS, alarmStateCode } from '../../../alerts/life/alarm-state.ts';
import type { AlarmView } from '../../api/schemas.ts';
import { iso, isoOrNull } from '../instant.ts';
import type { Language } from '../language.ts';
import type { RunningLab } from '../running-lab.ts';
import type { AlarmWords } from '../server-context.ts';

/** Station that the alarm is about, through the probe where it is about one. */
const stationOf = (running: RunningLab, alarm: Alarm): { id: string; name: string } | null => {
  const lab = running.lab();
  const probe = lab.probes.find((one) => alarm.subjectKind === 'probe' && one.id === alarm.subject);
  const id = alarm.subjectKind === 'station' ? alarm.subject : (probe?.station ?? null);
  if (id === null) return null;
  return { id, name: lab.stations.find((station) => station.id === id)?.name ?? id };
};

export const alarmView = (
  running: RunningLab,
  words: AlarmWords,
  alarm: Alarm,
  language: Language,
): AlarmView => {
  const station = stationOf(running, alarm);
  const code = alarmStateCode(alarm);
  return {
    id: alarm.id,
    rule: alarm.rule,
    subject: alarm.subject,
    subjectKind: alarm.subjectKind,
    station: station?.id ?? null,
    stationName: station?.name ?? null,
    priority: alarm.priority,
    stateCode: code,
    state: ALARM_STATE_WORDS[code],
    active: alarm.active,
    acknowledged: alarm.acknowledged,
    latched: alarm.latched,
    tense: alarm.tense,
    count: alarm.count,
    raisedAt: iso(alarm.raisedAt),
    clearedAt: isoOrNull(alarm.clearedAt),
    acknowledgedAt: isoOrNull(alarm.acknowledgedAt),
    acknowledgedBy: alarm.acknowledgedBy,
    shelvedUntil: isoOrNull(alarm.shelvedUntil),
    evidence: { ...alarm.evidence },
    ...words(alarm, running.lab(), language),
    history: running
      .alarmChanges(alarm.id)
      .filter((change) => change.kind !== 'updated')
      .map((change) => ({ at: iso(change.at), kind: change.kind, by: change.by, reason: change.reason })),
  };
};
