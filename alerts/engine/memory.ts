// What the watch remembers, part by part, as plain JSON. Parts of a state that was handed out are never changed;
// inside one batch a part is copied at its first change and then written in place (see work.ts), which is why
// the fields here are not readonly.

import type { FirstOrderState } from '../../wax/first-order-fit.ts';
import type { Activity } from '../measures/activity.ts';
import type { Bucket } from '../measures/past.ts';
import type { Trend } from '../measures/trend.ts';
import type { Alarm } from '../life/alarm.ts';
import type { ConditionState } from '../rules/condition-timer.ts';

/** Conditions that are pending or up, by rule kind; a quiet rule has no entry. */
export type Conditions = Record<string, NonNullable<ConditionState>>;

export interface ProbeMemory {
  newestAt: number;
  celsius: number;
  readings: number;
  /** Usual seconds between readings. */
  periodSeconds: number;
  rules: Conditions;
}

export interface StationMemory {
  /** Sample time of the value below; 0 while there was none. */
  at: number;
  celsius: number;
  uncertainty: number;
  probes: Record<string, ProbeMemory>;
  trend: Trend | null;
  /** The present ten minutes; closed buckets are a part of their own, because they change seldom. */
  bucket: Bucket | null;
  activity: Activity | null;
  fit: FirstOrderState | null;
  rules: Conditions;
}

export interface GatewayMemory {
  online: boolean | null;
  changedAt: number | null;
  /** Arrival of the last message. */
  heardAt: number | null;
  /** When it was last found lost no longer. */
  backAt: number | null;
  rules: Conditions;
}

export interface ClockMemory {
  /** Newest arrival; the watch's own now. */
  now: number;
}

/** By subject, then by rule; only alarms that are not in state A. */
export type AlarmMemory = Record<string, Record<string, Alarm>>;

export const newStation = (): StationMemory => ({
  at: 0,
  celsius: 0,
  uncertainty: 0,
  probes: {},
  trend: null,
  bucket: null,
  activity: null,
  fit: null,
  rules: {},
});

export const newProbe = (at: number, celsius: number): ProbeMemory => ({
  newestAt: at,
  celsius,
  readings: 1,
  periodSeconds: 60,
  rules: {},
});

export const newGateway = (): GatewayMemory => ({
  online: null,
  changedAt: null,
  heardAt: null,
  backAt: null,
  rules: {},
});

export const stationPart = (id: string): string => `station:${id}`;
export const pastPart = (id: string): string => `past:${id}`;
export const gatewayPart = (id: string): string => `gateway:${id}`;
export const patternPart = (id: string): string => `pattern:${id}`;
export const ALARMS_PART = 'alarms';
export const CLOCK_PART = 'clock';
