// What the lab has and what happened there as messages to the group. Pure. What the lab does not give is not in them.

import type { StationStatus } from '../../alerts/watch/engine/station-status.ts';
import type { Alarm, AlarmChange } from '../../alerts/watch/life/alarm.ts';
import type { PatternOutlook } from '../../alerts/watch/measures/pattern-outlook.ts';
import type { Charge } from '../../lab/charge.ts';
import type { GroupLink } from '../../lab/group/group-link.ts';
import type { AnsweredOffer } from '../../lab/group/group-offer-table.ts';
import { GROUP_MESSAGE_VERSION } from '../../lab/group/group-message-parts.ts';
import type {
  AlarmMessage,
  AnswerMessage,
  ChargeMessage,
  DayFigures,
  DayMessage,
  FiguresMessage,
  GroupAlarm,
  MinuteMessage,
  PatternMessage,
  StandingMessage,
} from '../../lab/group/group-message.ts';
import type { Lab } from '../../lab/lab.ts';
import type { OwnFigures } from '../../lab/own-figures.ts';
import type { Pattern } from '../../lab/pattern.ts';
import { patternLots } from '../../lab/patterns/recall.ts';
import type { Reading } from '../../lab/reading.ts';
import type { WaxLot } from '../../lab/wax-lot.ts';
import type { EpochMillis } from '../../wax/units.ts';
import { iso, isoOrNull } from '../../wax/iso.ts';

/** Of which lab it is, behind how much of its own past, and when. */
export interface MessageHead {
  readonly site: string;
  readonly offset: number;
  readonly at: EpochMillis;
}

/** The lab may have stored an instant with the offset of its zone. */
const inUtc = (instant: string): string => iso(Date.parse(instant));
const inUtcOrNull = (instant: string | null): string | null => (instant === null ? null : inUtc(instant));

const headOf = ({ site, offset, at }: MessageHead) => ({
  version: GROUP_MESSAGE_VERSION as 1,
  site,
  offset,
  sent_at: iso(at),
});

const groupAlarm = (alarm: Alarm): GroupAlarm => ({
  id: alarm.id,
  rule: alarm.rule,
  subject: alarm.subject,
  subject_kind: alarm.subjectKind,
  priority: alarm.priority,
  active: alarm.active,
  acknowledged: alarm.acknowledged,
  latched: alarm.latched,
  shelved_until: isoOrNull(alarm.shelvedUntil),
  suppressed: alarm.suppressedBy !== null,
  out_of_service: alarm.outOfService,
  tense: alarm.tense,
  raised_at: iso(alarm.raisedAt),
  acknowledged_at: isoOrNull(alarm.acknowledgedAt),
  cleared_at: isoOrNull(alarm.clearedAt),
});

export function standingMessage(
  head: MessageHead,
  lab: Lab,
  statuses: readonly StationStatus[],
  open: readonly Alarm[],
): StandingMessage {
  const byStation = new Map(statuses.map((status) => [status.station, status]));
  return {
    ...headOf(head),
    name: lab.site.name,
    time_zone: lab.site.timeZone,
    stations: lab.stations.map(({ id, name, kind, wax }) => {
      const status = byStation.get(id);
      return {
        id,
        name,
        kind,
        wax,
        condition: status?.condition ?? 'no-data',
        celsius: status?.celsius ?? null,
        measured_at: isoOrNull(status?.at),
        minutes_to_ceiling: status?.minutesToCeiling ?? null,
        dose_share: status?.doseShare ?? null,
        swing_celsius: status?.swingCelsius ?? null,
      };
    }),
    alarms: open.map(groupAlarm),
  };
}

/** What of it somebody at the group waits for; temperatures that move within the same condition are none of it. */
export const standingKey = ({ name, time_zone, stations, alarms }: StandingMessage): string =>
  JSON.stringify([name, time_zone, stations.map(({ id, condition }) => [id, condition]), alarms]);

/** Never the reason that somebody typed: it may name anybody. */
export const alarmMessage = (
  head: Omit<MessageHead, 'offset'>,
  { number, kind, at, by, alarm }: AlarmChange & { readonly number: number },
  { givesNames }: Pick<GroupLink, 'givesNames'>,
): AlarmMessage => ({
  ...headOf({ ...head, offset: number }),
  change: kind,
  at: iso(at),
  by: givesNames ? by : null,
  alarm: groupAlarm(alarm),
});

/** Readings of one probe in that minute, oldest first. */
export interface ProbeMinute {
  readonly probe: string;
  readonly station: string;
  readonly readings: readonly Reading[];
}

export const minuteMessage = (
  head: MessageHead,
  minute: number,
  probes: readonly ProbeMinute[],
  { detail }: Pick<GroupLink, 'detail'>,
): MinuteMessage => ({
  ...headOf(head),
  at: iso(minute),
  probes: probes
    .filter(({ readings }) => readings.length > 0)
    .map(({ probe, station, readings }) => {
      const values = readings.map(({ celsius }): number => celsius);
      return {
        probe,
        station,
        count: values.length,
        doubtful: readings.filter(({ quality }) => quality !== 'good').length,
        min_celsius: Math.min(...values),
        mean_celsius: values.reduce((sum, value) => sum + value, 0) / values.length,
        max_celsius: Math.max(...values),
        ...(detail === 'readings' && {
          readings: readings.map(({ at, celsius, quality }): [number, number, string] => [
            at - minute,
            celsius,
            quality,
          ]),
        }),
      };
    }),
});

export const dayMessage = (head: MessageHead, date: string, figures: DayFigures): DayMessage => ({
  ...headOf(head),
  date,
  ...figures,
});

const lotsOf = (ids: readonly (string | undefined)[], lots: readonly WaxLot[]): ChargeMessage['lots'] =>
  lots.filter(({ id }) => ids.includes(id)).map(({ maker, lot }) => ({ maker, lot }));

export const chargeMessage = (head: MessageHead, charge: Charge, lots: readonly WaxLot[]): ChargeMessage => ({
  ...headOf(head),
  id: charge.id,
  station: charge.station,
  wax: charge.wax,
  grams: charge.grams,
  lots: lotsOf([charge.lot, ...charge.topUps.map(({ lot }) => lot)], lots),
  started_at: inUtc(charge.startedAt),
  top_ups: charge.topUps.length,
  cleaned_at: inUtcOrNull(charge.cleanedAt),
  ended_at: inUtcOrNull(charge.endedAt),
});

export interface WaxOfLab {
  readonly lots: readonly WaxLot[];
  /** By id, ended ones included. */
  readonly charges: ReadonlyMap<string, Charge>;
}

export const patternMessage = (
  head: MessageHead,
  pattern: Pattern,
  outlook: PatternOutlook | undefined,
  { lots, charges }: WaxOfLab,
  { givesCaseReferences }: Pick<GroupLink, 'givesCaseReferences'>,
): PatternMessage => {
  const stay = pattern.stays.at(-1);
  const isWaiting = pattern.fate === null;
  return {
    ...headOf(head),
    id: pattern.id,
    ...(givesCaseReferences && { case_reference: pattern.caseReference }),
    kind: pattern.kind ?? 'pattern',
    wax: pattern.wax,
    lot: lotsOf([pattern.lot], lots)[0] ?? null,
    lots: lotsOf(
      patternLots(pattern, charges).map(({ lot }) => lot),
      lots,
    ),
    station: isWaiting && stay?.to === null ? stay.station : null,
    made_at: inUtc(pattern.madeAt),
    verdict: isWaiting ? (outlook?.verdict.verdict ?? null) : null,
    reason: isWaiting ? (outlook?.verdict.reason ?? null) : null,
    due_at: isWaiting ? isoOrNull(outlook?.verdict.dueAt) : null,
    fate: pattern.fate === null ? null : { kind: pattern.fate.kind, at: inUtc(pattern.fate.at) },
  };
};

const ownRules = (rules: OwnFigures | undefined): FiguresMessage['rules'] =>
  Object.fromEntries(Object.entries(rules ?? {}).map(([rule, figures]) => [rule, { ...figures }]));

/** Only what the lab has set for itself: the group has what is as supplied. */
export const figuresMessage = (
  head: MessageHead,
  { lots, site, stations, waxOverrides }: Lab,
): FiguresMessage => ({
  ...headOf(head),
  waxes: Object.fromEntries(Object.entries(waxOverrides).map(([wax, values]) => [wax, { ...values }])),
  rules: ownRules(site.rules),
  stations: stations.map(({ id, name, kind, rules }) => ({ id, name, kind, rules: ownRules(rules) })),
  lots: (lots ?? []).map(({ expiresOn, lot, maker, sheetValues, wax }) => ({
    maker,
    lot,
    wax,
    expires_on: expiresOn,
    sheet_values: { ...sheetValues },
  })),
});

export const answerMessage = (
  head: MessageHead,
  { answer, at, by, id }: AnsweredOffer,
  { givesNames }: Pick<GroupLink, 'givesNames'>,
): AnswerMessage => ({ ...headOf(head), offer: id, answer, at: iso(at), by: givesNames ? by : null });

/** The same for the same content, whenever it is sent. */
export const contentDigest = ({
  sent_at: _sentAt,
  offset: _offset,
  ...content
}: ChargeMessage | FiguresMessage | PatternMessage): string => JSON.stringify(content);
