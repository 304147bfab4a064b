// Where an alarm belongs on a map of the lab: its station, or that of the probe or pattern that it is about.

import type { Alarm } from '../../alerts/watch/life/alarm.ts';
import type { SubjectKind } from '../../alerts/watch/rule/finding.ts';
import type { Lab } from '../../lab/lab.ts';

const STATION_OF: Readonly<Record<SubjectKind, (lab: Lab, subject: string) => string | null>> = {
  station: (_lab, subject) => subject,
  probe: (lab, subject) => lab.probes.find(({ id }) => id === subject)?.station ?? null,
  pattern: (lab, subject) => lab.patterns.find(({ id }) => id === subject)?.stays.at(-1)?.station ?? null,
  gateway: () => null,
  site: () => null,
};

export const alarmStation = (lab: Lab, alarm: Pick<Alarm, 'subject' | 'subjectKind'>): string | null =>
  STATION_OF[alarm.subjectKind](lab, alarm.subject);
