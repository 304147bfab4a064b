// Which lab needs hands, worst first. Pure. A lab that has not reported is never among those with nothing to do: how it
// is now is not known.

import { PRIORITIES, type Priority } from '../alerts/watch/rule/priority.ts';
import type { GroupAlarm } from '../lab/group/group-message.ts';

export const NEEDS = ['hands', 'silent', 'attended', 'calm'] as const;
export type NeedOfLab = (typeof NEEDS)[number];

/** A lab reports at least once a minute; after three without a word it is silent. Common practice, no source. */
const SILENT_MILLIS = 180_000;

export interface ReportedLab {
  readonly site: string;
  readonly name: string;
  readonly timeZone: string;
  /** When the group last took its state, epoch milliseconds. */
  readonly reportedAt: number;
  readonly stations: number;
  /** By id. */
  readonly stationNames: ReadonlyMap<string, string>;
  /** Stations whose condition is not one of a calm lab. */
  readonly unwell: number;
  readonly alarms: readonly GroupAlarm[];
}

export interface LabNeed {
  readonly lab: ReportedLab;
  readonly need: NeedOfLab;
  readonly isSilent: boolean;
  /** What is shown: neither shelved nor suppressed nor out of service; the worst first. */
  readonly alarms: readonly GroupAlarm[];
}

const isShown = (alarm: GroupAlarm): boolean =>
  !alarm.suppressed && !alarm.out_of_service && alarm.shelved_until === null;

/** A priority of a newer version counts as the gravest: better looked at once too often. */
const gravity = ({ priority }: GroupAlarm): number => Math.max(0, PRIORITIES.indexOf(priority as Priority));

const worseAlarm = (a: GroupAlarm, b: GroupAlarm): number =>
  Number(a.acknowledged) - Number(b.acknowledged) ||
  gravity(a) - gravity(b) ||
  Date.parse(a.raised_at) - Date.parse(b.raised_at);

export function labNeed(lab: ReportedLab, now: number): LabNeed {
  const alarms = lab.alarms.filter(isShown).sort(worseAlarm);
  const isSilent = now - lab.reportedAt > SILENT_MILLIS;
  const [worst] = alarms;
  const calm: NeedOfLab = isSilent ? 'silent' : 'calm';
  const attended: NeedOfLab = isSilent ? 'silent' : 'attended';
  const need = worst === undefined ? calm : worst.acknowledged ? attended : 'hands';
  return { lab, need, isSilent, alarms };
}

/** What waits for hands first, by its worst alarm and how long it has waited; labs of which nothing is known next. */
export const byNeed = (labs: readonly ReportedLab[], now: number): readonly LabNeed[] =>
  labs
    .map((lab) => labNeed(lab, now))
    .sort((a, b) => {
      const order = NEEDS.indexOf(a.need) - NEEDS.indexOf(b.need);
      const [worst, otherWorst] = [a.alarms[0], b.alarms[0]];
      const graver = worst !== undefined && otherWorst !== undefined ? worseAlarm(worst, otherWorst) : 0;
      return order || graver || a.lab.name.localeCompare(b.lab.name);
    });
