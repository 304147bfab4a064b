// An alarm as it crosses the wire: its facts, its state by letter and word, its text and its history.

import type { Alarm } from '../../../alerts/watch/life/alarm.ts';
import { type KnownRule, RULES } from '../../../alerts/watch/rules/all-rules.ts';
import { ALARM_STATE_WORDS, alarmStateCode } from '../../../alerts/watch/life/alarm-state.ts';
import type { AlarmView } from '../../api/schemas.ts';
import type { ReaderSettings } from '../../../words/quantity.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { AlarmWords } from '../../queries/alarm-words.ts';
import { alarmStation } from '../../queries/alarm-station.ts';
import { iso, isoOrNull } from '../../../wax/iso.ts';

/** None of a rule that an earlier version raised and this one has no longer. */
const extremesOf = ({ rule: kind }: Alarm): NonNullable<AlarmView['extremes']> => {
  const rule: KnownRule | undefined = RULES[kind];
  return rule?.scope === 'station' ? [...rule.extremes] : [];
};

export const alarmView = (
  running: RunningLab,
  words: AlarmWords,
  alarm: Alarm,
  reader: ReaderSettings,
): AlarmView => {
  const lab = running.lab();
  const station = alarmStation(lab, alarm);
  const code = alarmStateCode(alarm);
  return {
    id: alarm.id,
    rule: alarm.rule,
    subject: alarm.subject,
    subjectKind: alarm.subjectKind,
    station,
    stationName: lab.stations.find(({ id }) => id === station)?.name ?? station,
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
    extremes: extremesOf(alarm),
    ...words(alarm, lab, reader),
    history: running
      .alarmChanges(alarm.id)
      .filter((change) => change.kind !== 'updated')
      .map((change) => ({ at: iso(change.at), kind: change.kind, by: change.by, reason: change.reason })),
  };
};
