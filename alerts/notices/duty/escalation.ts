// From alarm changes and passing time to notices: who is notified first, who next, and who learns that it is over.
// A pure step over plain JSON; it deals with persons, not with channels.

import { Temporal } from 'temporal-polyfill';
import type { Lab } from '../../../lab/lab.ts';
import { type NotificationPlan, notificationPlanOf } from '../../../lab/notification-plan.ts';
import { type EpochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { Alarm, AlarmChange } from '../../watch/life/alarm.ts';
import { isHidden } from '../../watch/life/alarm-state.ts';
import { canWait, mayNotify, notifyFrom, recipientsOf } from './recipients.ts';

export const NOTICE_KINDS = [
  'raised',
  'still-open',
  'cleared',
  'acknowledged',
  'put-aside',
  'learned',
  'heartbeat',
] as const;
export type NoticeKind = (typeof NOTICE_KINDS)[number];

export interface Notice {
  /** Of the change: nobody is notified twice of the same one. */
  readonly key: string;
  readonly kind: NoticeKind;
  readonly at: EpochMillis;
  readonly people: readonly string[];
  /** Null for a heartbeat. */
  readonly alarm: Alarm | null;
  /** Who put it aside; null when nobody did. */
  readonly by?: string | null;
}

interface Open {
  readonly alarm: Alarm;
  /** Since when the minutes of the plan count. */
  readonly since: EpochMillis;
  /** Steps of the plan that are done. */
  readonly steps: number;
  /** How often an urgent one rang again; absent in what an earlier version stored. */
  readonly rings?: number;
  readonly told: readonly string[];
}

export interface EscalationState {
  readonly open: Readonly<Record<string, Open>>;
  /** The day of the last heartbeat, `YYYY-MM-DD`. */
  readonly heartbeatOn: string | null;
  /** The machine's clock, to the minute; absent in what an earlier version stored. */
  readonly clockAt?: EpochMillis;
}

export type EscalationInput =
  /** `learnedAt` is when the change came to be known; it may have been long before. */
  | { readonly kind: 'change'; readonly change: AlarmChange; readonly learnedAt: EpochMillis }
  | { readonly kind: 'tick'; readonly at: EpochMillis }
  /** What the machine's clock shows, before anything else that comes at that instant. */
  | { readonly kind: 'clock'; readonly at: EpochMillis };

export interface Escalated {
  readonly state: EscalationState;
  readonly notices: readonly Notice[];
}

export const ESCALATION_START: EscalationState = { open: {}, heartbeatOn: null };

/** A heartbeat that comes much later proves nothing about the morning. */
const HEARTBEAT_LATEST_MILLIS = 2 * MILLIS_PER_HOUR;
/** An urgent alarm that nobody acknowledges rings again after this long, without end. Common practice, no source. */
const RING_AGAIN_MILLIS = 5 * MILLIS_PER_MINUTE;

/** It needs somebody. */
export const needsAcknowledgement = (alarm: Alarm): boolean =>
  alarm.active && !alarm.acknowledged && !isHidden(alarm);

const withoutAlarm = (state: EscalationState, id: string): EscalationState => {
  const { [id]: _, ...open } = state.open;
  return { ...state, open };
};

export function escalationStep(state: EscalationState, input: EscalationInput, lab: Lab): Escalated {
  switch (input.kind) {
    case 'change':
      return onChange(state, input.change, input.learnedAt, lab);
    case 'tick':
      return onTick(state, input.at, lab);
    case 'clock':
      return { state: withClock(state, input.at), notices: [] };
  }
}

/** The last notice to those who were notified; null when there is nothing to send. */
const endOf = ({ kind, alarm }: AlarmChange): NoticeKind | null => {
  if (isHidden(alarm)) return 'put-aside';
  return kind === 'cleared' || kind === 'acknowledged' ? kind : null;
};

function onChange(state: EscalationState, change: AlarmChange, learnedAt: EpochMillis, lab: Lab): Escalated {
  const { kind, at, alarm, by } = change;
  if (kind === 'learned') return { state, notices: noticesOfPast(change, learnedAt, lab) };
  const escalating = state.open[alarm.id];
  if (needsAcknowledgement(alarm)) {
    // What could wait for the morning can no longer wait.
    const isUrgentNow =
      escalating !== undefined &&
      ((canWait(escalating.alarm) && !canWait(alarm)) ||
        (escalating.since > learnedAt && mayNotify(alarm, notificationPlanOf(lab), lab, learnedAt)));
    const isNews = escalating === undefined || kind === 'raised-again' || isUrgentNow;
    if (!isNews || (kind === 'updated' && !isUrgentNow)) {
      if (escalating === undefined) return { state, notices: [] };
      return {
        state: { ...state, open: { ...state.open, [alarm.id]: { ...escalating, alarm } } },
        notices: [],
      };
    }
    const since = notifyFrom(alarm, notificationPlanOf(lab), lab, learnedAt);
    if (since === null) return { state, notices: [] };
    const fresh: Open = { alarm, since, steps: 0, rings: 0, told: [] };
    const step = stepOpen(fresh, notificationPlanOf(lab), lab, learnedAt);
    // It may have been raised, put aside and be back within one batch, whose changes are all learned in one instant.
    const notices = step.notices.map((notice) => ({ ...notice, key: `${notice.key}.${kind}.${at}` }));
    return { state: { ...state, open: { ...state.open, [alarm.id]: step.open } }, notices };
  }
  if (escalating === undefined) return { state, notices: [] };
  const over = withoutAlarm(state, alarm.id);
  const end = endOf(change);
  if (escalating.told.length === 0 || end === null) return { state: over, notices: [] };
  return {
    state: over,
    notices: [{ key: `${alarm.id}.${kind}.${at}`, kind: end, at, people: escalating.told, alarm, by }],
  };
}

/** What is older people have long since seen; it is in the list of alarms, and nobody is notified of it. */
const OLDEST_NEWS_MILLIS = 31 * MILLIS_PER_DAY;

/** What was so and is over is sent once, to those who are notified first; nobody need acknowledge it. */
function noticesOfPast({ at, alarm }: AlarmChange, learnedAt: EpochMillis, lab: Lab): readonly Notice[] {
  if (learnedAt - (alarm.clearedAt ?? learnedAt) > OLDEST_NEWS_MILLIS) return [];
  const plan = notificationPlanOf(lab);
  const from = alarm.priority === 'low' ? null : notifyFrom(alarm, plan, lab, learnedAt);
  const [first] = plan.escalation;
  if (from === null || first === undefined) return [];
  const people = recipientsOf(first.who, plan, lab, from);
  return people.length === 0 ? [] : [{ key: `${alarm.id}.${at}`, kind: 'learned', at: from, people, alarm }];
}

/**
 * Every step of the plan that is due at the instant, as one notice; who was notified before is reminded. What may not
 * notify outside working hours does not go on there either, and is due when the lab opens.
 */
function stepOpen(open: Open, plan: NotificationPlan, lab: Lab, at: EpochMillis) {
  if (!mayNotify(open.alarm, plan, lab, at)) return { open, notices: [] };
  const due = plan.escalation.filter(
    ({ afterMinutes }, index) => index >= open.steps && open.since + afterMinutes * MILLIS_PER_MINUTE <= at,
  );
  const steps = open.steps + due.length;
  const rings = ringsUntil(open, at);
  const again = rings > (open.rings ?? 0) ? open.told : [];
  const people = [
    ...new Set([
      ...due.flatMap(({ who }) => recipientsOf(who, plan, lab, at)),
      ...again,
      ...newOnDuty(open, plan, lab, at),
    ]),
  ];
  const isSame = due.length === 0 && again.length === 0;
  if (people.length === 0) return { open: isSame ? open : { ...open, steps, rings }, notices: [] };
  const { alarm } = open;
  const told = [...new Set([...open.told, ...people])];
  const notice: Notice = {
    key: `${alarm.id}.${alarm.count}.${open.since}.step-${steps}.${rings}.${told.length}`,
    kind: open.steps === 0 ? 'raised' : 'still-open',
    at,
    people,
    alarm,
  };
  return { open: { ...open, steps, rings, told }, notices: [notice] };
}

const ringsUntil = ({ alarm, since, rings = 0 }: Open, at: EpochMillis): number =>
  alarm.priority === 'urgent' ? Math.max(rings, Math.floor((at - since) / RING_AGAIN_MILLIS)) : rings;

/** Whoever comes on duty while it is open learns of it, once somebody was notified at all. */
const newOnDuty = (open: Open, plan: NotificationPlan, lab: Lab, at: EpochMillis): readonly string[] =>
  open.told.length === 0 || plan.rota === null
    ? []
    : recipientsOf('on-duty', plan, lab, at).filter((person) => !open.told.includes(person));

/** How far the machine's clock, which shows `at` now, was set back; 0 when it was not. */
export const setBackMillis = ({ clockAt = 0 as EpochMillis }: EscalationState, at: EpochMillis): number =>
  Math.max(0, clockAt - at);

/** Minutes that have passed stay passed; what waits for the opening waits for the clock on the wall. */
const moveBack = (open: EscalationState['open'], byMillis: number): EscalationState['open'] =>
  Object.fromEntries(
    Object.entries(open).map(([id, each]) => [
      id,
      each.told.length === 0 ? each : { ...each, since: (each.since - byMillis) as EpochMillis },
    ]),
  );

/** Often enough to show how far a clock was set back, rarely enough to cost nothing on the disk. */
const CLOCK_KEPT_MILLIS = MILLIS_PER_MINUTE;

const withClock = (state: EscalationState, at: EpochMillis): EscalationState => {
  const back = setBackMillis(state, at);
  if (back > 0) return { ...state, open: moveBack(state.open, back), clockAt: at };
  return at - (state.clockAt ?? 0) < CLOCK_KEPT_MILLIS ? state : { ...state, clockAt: at };
};

function onTick(state: EscalationState, at: EpochMillis, lab: Lab): Escalated {
  const plan = notificationPlanOf(lab);
  const notices: Notice[] = [];
  let open = state.open;
  for (const [id, before] of Object.entries(state.open)) {
    const step = stepOpen(before, plan, lab, at);
    if (step.open === before) continue;
    open = { ...open, [id]: step.open };
    notices.push(...step.notices);
  }
  const beat = heartbeat(state, plan, lab, at);
  if (beat.notice !== null) notices.push(beat.notice);
  const changed = open !== state.open || beat.on !== state.heartbeatOn;
  return { state: changed ? { ...state, open, heartbeatOn: beat.on } : state, notices };
}

function heartbeat(state: EscalationState, plan: NotificationPlan, lab: Lab, at: EpochMillis) {
  const nothing = { on: state.heartbeatOn, notice: null };
  if (plan.heartbeatAt === null) return nothing;
  const { timeZone } = lab.site;
  const today = Temporal.Instant.fromEpochMilliseconds(Math.floor(at))
    .toZonedDateTimeISO(timeZone)
    .toPlainDate();
  const on = today.toString();
  const due = today.toZonedDateTime({ timeZone, plainTime: plan.heartbeatAt }).epochMilliseconds;
  if (state.heartbeatOn === on || at < due) return nothing;
  const people = lab.people.filter((person) => person.morningHeartbeat).map(({ id }) => id);
  if (people.length === 0 || at - due > HEARTBEAT_LATEST_MILLIS) return { on, notice: null };
  const notice: Notice = { key: `heartbeat.${on}`, kind: 'heartbeat', at, people, alarm: null };
  return { on, notice };
}
