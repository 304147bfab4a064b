// Moves every instant in the state of the watch, when the clock of the machine was set back. Instants are the only numbers
// in its memory that are as large as epoch milliseconds; what alarms hold of the past stays as it was.

import { epochMillis } from '../../../../wax/units.ts';
import type { Alarm } from '../../life/alarm.ts';
import { type Draft, forgetEdited } from './draft.ts';
import { isAlarmsKey, type SubjectAlarms, type WatchKey, type WatchState } from './memory.ts';

/** September 2001 and far beyond, in epoch milliseconds: no temperature, count or duration is as large. */
const EARLIEST_INSTANT = 1e12;
const LATEST_INSTANT = 1e14;

type Json = unknown;

function moveValue(value: Json, byMillis: number): Json {
  if (typeof value === 'number')
    return value >= EARLIEST_INSTANT && value < LATEST_INSTANT ? value + byMillis : value;
  if (Array.isArray(value)) return value.map((element) => moveValue(element, byMillis));
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, moveValue(inner, byMillis)]));
}

/** When an alarm was raised stays, but for what the wrong clock put in the future; from when it is waited for moves. */
const moveAlarm = (alarm: Alarm, byMillis: number, now: number): Alarm => ({
  ...alarm,
  raisedAt: alarm.raisedAt > now ? shiftInstant(alarm.raisedAt, byMillis) : alarm.raisedAt,
  clearedAt:
    alarm.clearedAt === null || alarm.clearedAt <= now
      ? alarm.clearedAt
      : shiftInstant(alarm.clearedAt, byMillis),
  acknowledgedAt: alarm.acknowledgedAt === null ? null : shiftInstant(alarm.acknowledgedAt, byMillis),
  shelvedUntil: alarm.shelvedUntil === null ? null : shiftInstant(alarm.shelvedUntil, byMillis),
});
const shiftInstant = (instant: Alarm['raisedAt'], byMillis: number): Alarm['raisedAt'] =>
  epochMillis(instant + byMillis);

const moveAlarms = (alarms: SubjectAlarms, byMillis: number, now: number): SubjectAlarms =>
  Object.fromEntries(Object.entries(alarms).map(([kind, alarm]) => [kind, moveAlarm(alarm, byMillis, now)]));

/** `now`: by the clock as it is set now, epoch milliseconds. */
export function moveInstants(draft: Draft, byMillis: number, now: number): void {
  const parts: WatchState = draft.parts;
  for (const key of Object.keys(parts) as WatchKey[]) {
    draft.changed.add(key);
    draft.own.add(key);
    const part = parts[key];
    if (part === undefined) continue;
    const whole = isAlarmsKey(key) ? moveAlarms(parts[key] ?? {}, byMillis, now) : moveValue(part, byMillis);
    Object.assign(draft.parts, { [key]: whole });
  }
  forgetEdited(draft);
}
