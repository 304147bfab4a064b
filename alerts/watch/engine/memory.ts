// What the watch remembers, part by part, as plain JSON. Parts of a state that was handed out are never changed;
// inside one batch a part is copied at its first change and then written in place (see work.ts), which is why
// the fields here are not readonly.

import type { FirstOrderState } from '../../../wax/first-order-fit.ts';
import type { MktState } from '../../../wax/mean-kinetic-temperature.ts';
import type { RainflowState } from '../../../wax/rainflow.ts';
import type { RelaxationState } from '../../../wax/relaxation.ts';
import type { ThermostatState } from '../../../wax/thermostat-cycle.ts';
import type { Activity } from '../measures/activity.ts';
import type { WaxClassId } from '../../../wax/classes/wax-class-id.ts';
import { type ChargeDose, freshCharge } from '../measures/charge-dose.ts';
import type { GatewayClock } from '../measures/gateway-clock.ts';
import type { Load } from '../measures/load.ts';
import type { Night } from '../measures/night.ts';
import type { Bucket } from '../measures/past.ts';
import type { PatternOutlook } from '../measures/pattern-outlook.ts';
import { type ProbeTrack, trackStart } from '../measures/probe-track.ts';
import type { ThermostatDrift } from '../measures/thermostat-drift.ts';
import type { Trend } from '../measures/trend.ts';
import type { WarmUp } from '../measures/warm-up.ts';
import type { Alarm } from '../life/alarm.ts';
import type { ConditionState } from '../rule/condition-timer.ts';

/** Conditions that are pending or up, by rule kind; a quiet rule has no entry. */
export type Conditions = Record<string, NonNullable<ConditionState>>;

export interface ProbeMemory {
  newestAt: number;
  celsius: number;
  readings: number;
  /** Usual seconds between readings. */
  periodSeconds: number;
  track: ProbeTrack;
  rules: Conditions;
}

/** The charge as it would be without an act that may be a mistake: it counts on beside the present one. */
export interface EarlierCharge {
  /** Of the act. */
  readonly act: string;
  readonly toldAt: number;
  readonly wax: WaxClassId;
  readonly charge: ChargeDose;
  readonly hotHoursBefore: number;
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
  /** By the fit; null when it is not heading for the ceiling. */
  minutesToCeiling: number | null;
  charge: ChargeDose;
  /** Hot hours of the charges before the present one since the pot was cleaned. */
  hotHoursBefore: number;
  /** What the newest changes and top-ups would be taken back to, oldest first; absent when there is nothing. */
  earlierCharges?: readonly EarlierCharge[];
  plannedOff: boolean;
  plannedOnAt: number | null;
  load: Load | null;
  warmUp: WarmUp | null;
  thermostat: ThermostatState | null;
  thermostatDrift: ThermostatDrift | null;
  night: Night | null;
  /** Worst that late readings revealed, by rule: the hour it lies in and how bad. */
  learned: Record<string, { readonly hour: number; readonly worst: number }>;
  rules: Conditions;
}

export interface PatternMemory {
  relaxation: RelaxationState;
  /** Of its first reading: it was fitted on the die at about that. */
  fittedCelsius: number;
  mkt: MktState;
  rainflow: RainflowState;
  swings: number;
  largestSwing: number;
  minutesTooWarm: number;
  outlook: PatternOutlook | null;
  outlookAt: number;
  rules: Conditions;
}

export interface GatewayMemory {
  online: boolean | null;
  changedAt: number | null;
  /** Arrival of the last message. */
  heardAt: number | null;
  /** When it was last found lost no longer. */
  backAt: number | null;
  clock: GatewayClock | null;
  rules: Conditions;
}

export interface ClockMemory {
  /** Newest arrival; the watch's own now. */
  now: number;
  /** When it last began to see time pass: after a stop nobody can be blamed for having been silent. */
  awakeAt: number;
}

/** Of one subject, by rule; only alarms that are not in state A. */
export type SubjectAlarms = Readonly<Record<string, Alarm>>;

export const newStation = (): StationMemory => ({
  at: 0,
  celsius: 0,
  uncertainty: 0,
  probes: {},
  trend: null,
  bucket: null,
  activity: null,
  fit: null,
  minutesToCeiling: null,
  charge: freshCharge(),
  hotHoursBefore: 0,
  plannedOff: false,
  plannedOnAt: null,
  load: null,
  warmUp: null,
  thermostat: null,
  thermostatDrift: null,
  night: null,
  learned: {},
  rules: {},
});

export const newProbe = (at: number, celsius: number): ProbeMemory => ({
  newestAt: at,
  celsius,
  readings: 1,
  periodSeconds: 60,
  track: trackStart(at),
  rules: {},
});

export const newGateway = (): GatewayMemory => ({
  online: null,
  changedAt: null,
  heardAt: null,
  backAt: null,
  clock: null,
  rules: {},
});

export const stationPart = (id: string): string => `station:${id}`;
export const pastPart = (id: string): string => `past:${id}`;
export const gatewayPart = (id: string): string => `gateway:${id}`;
export const patternPart = (id: string): string => `pattern:${id}`;
const ALARMS_PREFIX = 'alarms:';
/** A part for each subject, so that one alarm more does not rewrite all the others. */
export const alarmsPart = (subject: string): string => ALARMS_PREFIX + subject;
export const isAlarmsPart = (name: string): boolean => name.startsWith(ALARMS_PREFIX);
export const CLOCK_PART = 'clock';
export const SITE_PART = 'site';
