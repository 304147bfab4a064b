// What a lab publishes to the group that it belongs to, as schemas and types at once: the one contract between the two.
// Every message carries its version, its site and the lab's own offset, so that it can be delivered twice and counts
// once. A change of a field's meaning is a new version; fields are only ever added. Described in docs/group.md.

import { crc32 } from 'node:zlib';
import { type Static, Type } from 'typebox';
import { Figures, head, Id, Instant, Lot, MOST_ITEMS, OfferedLot } from './group-message-parts.ts';
import { Nullable } from '../nullable.ts';

/** Fixed for ever: the number is in every topic, and in the sessions that brokers keep. */
export const GROUP_PARTITIONS = 16;

/** Far more than a minute of every reading of a large lab; a longer message is refused unread. */
export const GROUP_MESSAGE_MOST_BYTES = 4 * 1024 * 1024;

export const GROUP_MESSAGE_KINDS = [
  'standing',
  'alarm',
  'minute',
  'day',
  'charge',
  'pattern',
  'figures',
  'answer',
] as const;
export type GroupMessageKind = (typeof GROUP_MESSAGE_KINDS)[number];

/** The same site always falls into the same partition. */
export const groupPartition = (site: string): number => crc32(site) % GROUP_PARTITIONS;

/** @example groupTopic('north', 'alarm') // 'wax-group/2/north/alarm' */
export const groupTopic = (site: string, kind: GroupMessageKind): string =>
  `wax-group/${groupPartition(site)}/${site}/${kind}`;

/** Everything that labs of one partition publish. */
export const partitionFilter = (partition: number): string => `wax-group/${partition}/+/+`;

/** Site and kind of a topic; null for any other. */
export function groupTopicParts(
  topic: string,
): { readonly site: string; readonly kind: GroupMessageKind } | null {
  const [, , site, name] = topic.split('/');
  const kind = GROUP_MESSAGE_KINDS.find((listed) => listed === name);
  return site !== undefined && kind !== undefined && topic === groupTopic(site, kind) ? { site, kind } : null;
}

const GroupAlarm = Type.Object({
  id: Id,
  rule: Id,
  subject: Id,
  subject_kind: Id,
  priority: Type.String(),
  active: Type.Boolean(),
  acknowledged: Type.Boolean(),
  latched: Type.Boolean(),
  shelved_until: Nullable(Instant),
  suppressed: Type.Boolean(),
  out_of_service: Type.Boolean(),
  tense: Type.String({ description: '`now`, or `learned` for what was over before anybody could know' }),
  raised_at: Instant,
  acknowledged_at: Nullable(Instant),
  cleared_at: Nullable(Instant),
});
export type GroupAlarm = Static<typeof GroupAlarm>;

/** The state of the lab. Retained; the newest one counts. */
const StandingMessage = Type.Object({
  ...head,
  name: Type.String(),
  time_zone: Type.String(),
  stations: Type.Array(
    Type.Object({
      id: Id,
      name: Type.String(),
      kind: Id,
      wax: Nullable(Id),
      condition: Id,
      celsius: Nullable(Type.Number()),
      measured_at: Nullable(Instant),
      minutes_to_ceiling: Nullable(Type.Number()),
      dose_share: Nullable(Type.Number({ description: 'heat dose of the charge over its allowance' })),
      swing_celsius: Nullable(Type.Number()),
    }),
    { maxItems: MOST_ITEMS },
  ),
  alarms: Type.Array(GroupAlarm, { maxItems: MOST_ITEMS }),
});
export type StandingMessage = Static<typeof StandingMessage>;

/** One change in the life of an alarm. `offset` counts the changes of the lab. */
const AlarmMessage = Type.Object({
  ...head,
  change: Id,
  at: Instant,
  by: Nullable(Type.String({ description: 'who did it; null where the lab does not give names' })),
  alarm: GroupAlarm,
});
export type AlarmMessage = Static<typeof AlarmMessage>;

const Reading = Type.Tuple([
  Type.Integer({ description: 'milliseconds after the minute began' }),
  Type.Number({ description: 'degrees Celsius' }),
  Type.String({ description: 'quality' }),
]);

/** One minute of every probe that has a station. It comes again when readings of that minute arrived late. */
const MinuteMessage = Type.Object({
  ...head,
  at: Instant,
  probes: Type.Array(
    Type.Object({
      probe: Id,
      station: Id,
      count: Type.Integer({ minimum: 1 }),
      doubtful: Type.Integer({ minimum: 0, description: 'how many of `count` are not of quality `good`' }),
      min_celsius: Type.Number(),
      mean_celsius: Type.Number(),
      max_celsius: Type.Number(),
      readings: Type.Optional(Type.Array(Reading)),
    }),
    { maxItems: MOST_ITEMS },
  ),
});
export type MinuteMessage = Static<typeof MinuteMessage>;

const Minutes = Type.Number({ minimum: 0 });

/** What one day of the lab came to, in its own time zone. It comes again when readings of that day arrived late. */
const DayMessage = Type.Object({
  ...head,
  date: Type.String({ pattern: String.raw`^\d{4}-\d\d-\d\d$` }),
  places: Type.Array(
    Type.Object({
      station: Id,
      measured_minutes: Minutes,
      outside_minutes: Type.Number({ minimum: 0, description: 'above the storage limit that held then' }),
      largest_swing_celsius: Type.Number({ minimum: 0 }),
    }),
    { maxItems: MOST_ITEMS, description: 'where patterns are stored' },
  ),
  heaters: Type.Array(
    Type.Object({
      station: Id,
      measured_minutes: Minutes,
      hot_minutes: Type.Number({ minimum: 0, description: 'at working temperature' }),
      dose_hours: Nullable(
        Type.Number({ description: 'equivalent hours; null where no melted wax is held' }),
      ),
    }),
    { maxItems: MOST_ITEMS },
  ),
  stations: Type.Integer({ minimum: 0 }),
  alarms: Type.Object({
    announced: Type.Integer({ minimum: 0 }),
    nuisance: Type.Integer({ minimum: 0, description: 'chattering or fleeting, as IEC 62682 names them' }),
  }),
});
export type DayMessage = Static<typeof DayMessage>;
/** Without whose and which day. */
export type DayFigures = Pick<DayMessage, 'places' | 'heaters' | 'stations' | 'alarms'>;

const ChargeMessage = Type.Object({
  ...head,
  id: Id,
  station: Id,
  wax: Id,
  grams: Type.Number(),
  lots: Type.Array(Lot, { description: 'of the wax in it; only those that the lab recorded' }),
  started_at: Instant,
  top_ups: Type.Integer({ minimum: 0 }),
  cleaned_at: Nullable(Instant),
  ended_at: Nullable(Instant),
});
export type ChargeMessage = Static<typeof ChargeMessage>;

const PatternMessage = Type.Object({
  ...head,
  id: Id,
  case_reference: Type.Optional(Type.String({ description: 'absent unless the lab gives it' })),
  kind: Id,
  wax: Id,
  lot: Nullable(Lot),
  lots: Type.Optional(
    Type.Array(Lot, { description: 'of the wax in it, through the charge that it was made from' }),
  ),
  station: Nullable(Id),
  made_at: Instant,
  verdict: Nullable(Id),
  reason: Nullable(Id),
  due_at: Nullable(Instant),
  fate: Nullable(Type.Object({ kind: Id, at: Instant })),
});
export type PatternMessage = Static<typeof PatternMessage>;

/** What the lab has set for itself, so that the group can show what an offer would change there. The newest one counts. */
const FiguresMessage = Type.Object({
  ...head,
  waxes: Type.Record(Id, Figures.wax, { description: "the lab's own values, by wax class" }),
  rules: Figures.rules,
  stations: Type.Array(Type.Object({ id: Id, name: Type.String(), kind: Id, rules: Figures.rules }), {
    maxItems: MOST_ITEMS,
  }),
  lots: Type.Array(OfferedLot, { maxItems: MOST_ITEMS }),
});
export type FiguresMessage = Static<typeof FiguresMessage>;

export const OFFER_ANSWERS = ['accepted', 'declined'] as const;
export type OfferAnswer = (typeof OFFER_ANSWERS)[number];

/** What a manager of the lab decided of an offer of the group. */
const AnswerMessage = Type.Object({
  ...head,
  offer: Id,
  answer: Type.Enum([...OFFER_ANSWERS]),
  at: Instant,
  by: Nullable(Type.String({ description: 'who decided; null where the lab does not give names' })),
});
export type AnswerMessage = Static<typeof AnswerMessage>;

export const GROUP_MESSAGES = {
  standing: StandingMessage,
  alarm: AlarmMessage,
  minute: MinuteMessage,
  day: DayMessage,
  charge: ChargeMessage,
  pattern: PatternMessage,
  figures: FiguresMessage,
  answer: AnswerMessage,
} as const satisfies Record<GroupMessageKind, unknown>;
