// The state of the watch, part by part, as plain JSON. A part that was handed out is never changed: inside one batch
// a part is copied at its first change and then written in place (see draft.ts), which is why fields are not readonly.

import type { WaxClassId } from '../../../../wax/classes/wax-class-id.ts';
import type { FirstOrderState } from '../../../../wax/heat/first-order-fit.ts';
import type { Intent } from '../../../../lab/intent.ts';
import type { Alarm } from '../../life/alarm.ts';
import type { Activity } from '../../measures/activity.ts';
import type { Apart } from '../../measures/apart.ts';
import type { ChargeDose, RunningCharge } from '../../measures/charge-dose.ts';
import type { BelowWindow } from '../../measures/below-window.ts';
import type { DoorSigns } from '../../measures/door-signs.ts';
import type { LevelSigns } from '../../measures/level-signs.ts';
import type { Load } from '../../measures/load.ts';
import type { OvernightExtremes } from '../../measures/overnight-extremes.ts';
import type { CarriedHeat, HeatPoint } from '../../measures/pattern-heat.ts';
import type { PatternOutlook } from '../../measures/pattern-outlook.ts';
import type { PlaceMove } from '../../measures/place-move.ts';
import type { ProbeSignal } from '../../measures/probe-signal.ts';
import type { TenMinutes } from '../../measures/ten-minutes.ts';
import type { HeaterBand } from '../../measures/heater-band.ts';
import type { Recent } from '../../measures/recent.ts';
import type { Rest } from '../../measures/rest.ts';
import type { Rhythm } from '../../measures/rhythm.ts';
import type { Sinking } from '../../measures/sinking.ts';
import type { Trend } from '../../measures/trend.ts';
import type { WarmUp } from '../../measures/warm-up.ts';
import type { WorkFalls } from '../../measures/work-falls.ts';
import type { Zigzag } from '../../measures/zigzag.ts';
import type { EpochMillis } from '../../../../wax/units.ts';
import type { Condition } from '../../rule/condition-timer.ts';
import type { Evidence } from '../../rule/finding.ts';
import type { RuleKind } from '../../rules/all-rules.ts';

/** Conditions that are pending or on; a quiet rule has no entry. */
export type Conditions = { [Kind in RuleKind]?: Condition };

export interface ProbeMemory {
  /** Instant of the newest reading by the lab's time, epoch milliseconds. */
  at: number;
  /** The newest accepted value. */
  celsius: number;
  /** Arrival of the newest reading. */
  receivedAt: number;
  /** Live readings in a row whose instants lie before the newest; absent: none. */
  lateInARow?: number;
  /** When its gateway reported that it is gone; absent: not since its newest live reading. */
  goneAt?: number;
  /** Of several in a pot: when it was last above the melting range; absent: never. */
  moltenAt?: number;
  readings: number;
  /** Usual seconds between readings. */
  periodSeconds: number;
  /**
   * Where its gateway gathers readings: how many came with the newest delivery so far, and the seconds from delivery to
   * delivery, those before too, 0 where few came at once; absent: it sends each as it is measured.
   */
  gathered?: number;
  deliverySeconds?: number;
  deliverySecondsBefore?: number;
  signal: ProbeSignal;
  /** Leaps to both sides, and the newest move at once, of a probe at a place; absent: not measured yet, none. */
  zigzag?: Zigzag;
  moved?: PlaceMove;
  /** Of several probes at a place: how far it stands from the others; absent: not measured yet, none. */
  apart?: Apart;
  conditions: Conditions;
}

/** The charge as it would be without an act that may be a mistake: it counts on beside the present one. */
export interface EarlierCharge {
  /** Id of the act. */
  readonly act: string;
  readonly recordedAt: number;
  readonly wax: WaxClassId;
  readonly charge: ChargeDose;
  readonly hotHoursBefore: number;
}

/** A condition that held once, as readings that came late show it. */
export interface PastSpan {
  readonly from: EpochMillis;
  readonly to: EpochMillis;
  readonly samples: number;
  readonly worst: number;
  readonly evidence: Evidence;
  /** Arrival of the newest of them. */
  readonly learnedAt: EpochMillis;
  readonly isAnnounced: boolean;
}

export interface StationMemory {
  /** Instant of the value below; 0 while there was none. */
  at: number;
  celsius: number;
  /** Expanded uncertainty of the value (k = 2), kelvins. */
  uncertainty: number;
  trend: Trend | null;
  /** The present ten minutes; closed ones are a part of their own, because they change seldom. */
  tenMinutes: TenMinutes | null;
  activity: Activity | null;
  fit: FirstOrderState | null;
  /** By the fit; null when it is not heading for the ceiling. */
  minutesToCeiling: number | null;
  /** The near end of its band; absent: no curve yet. */
  earliestToCeiling?: number;
  charge: RunningCharge;
  /** Hot hours of the charges before the present one since the pot was cleaned. */
  hotHoursBefore: number;
  /** What the newest changes and top-ups would be taken back to, oldest first. */
  earlierCharges: readonly EarlierCharge[];
  plannedOff: boolean;
  /** What people mean it to do for a while; absent: nothing was ever entered. */
  intents?: readonly Intent[];
  plannedOnAt: number | null;
  load: Load | null;
  warmUp: WarmUp | null;
  /** The last minutes of it. */
  recent: Recent | null;
  /** What is usual for a heater at work; null for a place. */
  band: HeaterBand | null;
  /** How fast and how evenly its thermostat switches; absent in states stored before that was measured. */
  rhythm?: Rhythm | null;
  /** What its cycles show of the level of a pot; absent in states stored before that was measured. */
  levelSigns?: LevelSigns | null;
  /** How far a pot is below where it usually is at work; absent in states stored before that was measured. */
  sinking?: Sinking | null;
  /** How fast a pot falls while somebody works at it; absent in states stored before that was measured. */
  workFalls?: WorkFalls | null;
  /** How far it stands from each station around it while it is off, by its part of the state; absent in states stored before that was measured. */
  restFrom?: Readonly<Record<StationKey, Rest>>;
  /** Kelvins above its usual band that a heater reaches after a warm-up; and the highest since the present one. */
  overshoot: number;
  overshootTop: number;
  /** Kelvins above its usual band that it stands since its probe leapt there; absent: it did not. */
  lift?: number;
  /** How far below its window people were called for; absent: they were not of late. */
  belowWindow?: BelowWindow;
  /** When somebody last seemed to be at work there: a fall that no cooling makes. */
  disturbedAt: number;
  /** When people were last called for a softener that fell without heat; absent: never. */
  fellEarlyAt?: number;
  /** Doors of a softening cabinet, as they show in its temperature; absent in states stored before that was measured. */
  doors?: DoorSigns | null;
  /** Seen above its melting range at last; wax cannot freeze within minutes. */
  moltenAt: number;
  overnight: OvernightExtremes | null;
  /** What late readings reveal, by rule; absent: nothing. */
  past?: { readonly [Kind in RuleKind]?: PastSpan };
  conditions: Conditions;
}

/** Of a pattern that lies where it lies since an instant. */
export const createPatternMemory = (stayFrom = 0): PatternMemory => ({
  at: 0,
  celsius: 0,
  stayFrom,
  carried: null,
  outlook: null,
  conditions: {},
});

export interface PatternMemory {
  /** Newest reading; 0 while there was none. */
  at: number;
  celsius: number;
  /** Since when it lies where it lies, as the lab entered it. */
  stayFrom: number;
  carried: CarriedHeat | null;
  outlook: PatternOutlook | null;
  conditions: Conditions;
}

export interface GatewayMemory {
  /** By its own message or its last will; null before either. */
  online: boolean | null;
  changedAt: number | null;
  /** Arrival of the last message; null while there was none. */
  receivedAt: number | null;
  /** When it was last found lost no longer. */
  backAt: number | null;
  /** How far its clock is steadily behind, negative when it is ahead; null or absent while that is not known. */
  lagMillis?: number | null;
  /** It jumped several times within an hour; absent: not as far as is known. */
  isClockUnsteady?: boolean;
  conditions: Conditions;
}

export interface ClockMemory {
  /** Newest arrival; the watch's own now. */
  now: number;
  /** When it last began to see time pass: after a stop nobody can be blamed for having been silent. */
  awakeAt: number;
  /**
   * The newest tick: which process wrote it, and by how much the machine's clock was ahead of that process's own. In
   * seconds, as both stay what they are when instants are moved. `at`: when it came, epoch milliseconds; absent in states
   * stored before that was noted.
   */
  ticked?: { readonly process: number; readonly aheadSeconds: number; readonly at?: number };
  /** Since when nothing came and what there is to look at, until a tick shows why: a stop, or a clock that was set forward. */
  unwatched?: { readonly since: number; readonly until: number; readonly look: Evidence };
  /** The newest jump of the machine's clock, positive when it was set forward. */
  jump?: { readonly at: number; readonly minutes: number };
}

/** Conditions of the site and of the running process itself, by subject. */
export type SiteMemory = readonly (readonly [subject: string, conditions: Conditions])[];

/** Of one subject, by rule; only alarms that are not in state A. */
export type SubjectAlarms = { readonly [Kind in RuleKind]?: Alarm };

export type StationKey = `station:${string}`;
export type HistoryKey = `history:${string}`;
export type ProbeKey = `probe:${string}`;
export type GatewayKey = `gateway:${string}`;
export type PatternKey = `pattern:${string}`;
export type CourseKey = `course:${string}`;
export type AlarmsKey = `alarms:${string}`;

/** Rises when stored parts change their form; a state without it may be of an earlier one (see restore.ts). */
export const LAYOUT = 3;

/** Every part by its key; the key gives its type, and its prefix keeps ids from outside apart from all else. */
export interface WatchState {
  readonly layout?: typeof LAYOUT;
  readonly clock?: ClockMemory;
  readonly site?: SiteMemory;
  readonly [station: StationKey]: StationMemory;
  /** Closed ten minutes of a station, oldest first. */
  readonly [history: HistoryKey]: readonly TenMinutes[];
  readonly [probe: ProbeKey]: ProbeMemory;
  readonly [gateway: GatewayKey]: GatewayMemory;
  readonly [pattern: PatternKey]: PatternMemory;
  /** Temperatures that a pattern went through, oldest first. */
  readonly [course: CourseKey]: readonly HeatPoint[];
  readonly [alarms: AlarmsKey]: SubjectAlarms;
}
export type WatchKey =
  | 'clock'
  | 'site'
  | StationKey
  | HistoryKey
  | ProbeKey
  | GatewayKey
  | PatternKey
  | CourseKey
  | AlarmsKey;

export const stationKey = (id: string): StationKey => `station:${id}`;
export const historyKey = (id: string): HistoryKey => `history:${id}`;
export const probeKey = (id: string): ProbeKey => `probe:${id}`;
export const gatewayKey = (id: string): GatewayKey => `gateway:${id}`;
export const patternKey = (id: string): PatternKey => `pattern:${id}`;
export const courseKey = (id: string): CourseKey => `course:${id}`;
export const patternOfCourse = (key: CourseKey): PatternKey => patternKey(key.slice('course:'.length));
export const alarmsKey = (subject: string): AlarmsKey => `alarms:${subject}`;

export const isAlarmsKey = (key: string): key is AlarmsKey => key.startsWith('alarms:');
export const isPatternKey = (key: string): key is PatternKey => key.startsWith('pattern:');
export const isCourseKey = (key: string): key is CourseKey => key.startsWith('course:');
