// What rules are evaluated on: measured once for each reading or tick, handed to every rule, changed by none.
// Temperatures in degrees Celsius, instants in epoch milliseconds, sample time for readings.

import type { StationLimits } from '../../../lab/limits.ts';
import type { Pattern } from '../../../lab/pattern.ts';
import type { Stretch } from '../../../lab/calendar.ts';
import type { IntentKind } from '../../../lab/intent-kind.ts';
import type { Station } from '../../../lab/station.ts';
import type { WaxClass } from '../../../wax/wax-class.ts';
import type { Activity } from '../measures/activity.ts';
import type { Apart } from '../measures/apart.ts';
import type { BelowWindow } from '../measures/below-window.ts';
import type { DoorSigns } from '../measures/door-signs.ts';
import type { LevelSigns } from '../measures/level-signs.ts';
import type { Load } from '../measures/load.ts';
import type { OvernightExtremes } from '../measures/overnight-extremes.ts';
import type { History } from '../measures/ten-minutes.ts';
import type { PatternOutlook } from '../measures/pattern-outlook.ts';
import type { ProbeSignal } from '../measures/probe-signal.ts';
import type { HeaterBand } from '../measures/heater-band.ts';
import type { Evidence } from './finding.ts';
import type { Recent } from '../measures/recent.ts';
import type { Rest } from '../measures/rest.ts';
import type { Rhythm } from '../measures/rhythm.ts';
import type { Sinking } from '../measures/sinking.ts';
import type { WarmUp } from '../measures/warm-up.ts';
import type { WorkFalls } from '../measures/work-falls.ts';

export interface FreshProbe {
  readonly id: string;
  readonly celsius: number;
  /** Expanded, k = 2. */
  readonly uncertainty: number;
  /** Of several in a pot: when it was last above the melting range, epoch milliseconds; absent: never. */
  readonly moltenAt?: number;
}

export interface StationInput {
  readonly station: Station;
  readonly limits: StationLimits;
  readonly wax: WaxClass | null;
  readonly at: number;
  /** Of several probes: the hottest of a heater, the mean of a place. */
  readonly celsius: number;
  /** Expanded uncertainty (k = 2) of the value. */
  readonly uncertainty: number;
  readonly celsiusPerHour: number | null;
  /** Those with a fresh value. */
  readonly probes: readonly FreshProbe[];
  /** The open or closed stretch of working hours around `at`. */
  readonly hours: Stretch;
  /** The next closed stretch; null while closed, or when none is near. */
  readonly nextClosure: Stretch | null;
  /** Null for a place. */
  readonly activity: Activity | null;
  readonly history: History;
  /** Minutes until the ceiling by the fitted curve; null when it is not heading there. */
  readonly minutesToCeiling: number | null;
  /** The near end of the curve's 95 % band, in minutes; null where there is no curve yet. */
  readonly earliestToCeiling: number | null;
  readonly dose: { readonly share: number; readonly hours: number; readonly allowance: number } | null;
  readonly hotHoursSinceCleaned: number;
  readonly plannedOff: boolean;
  readonly plannedOnAt: number | null;
  /** When it ends, epoch milliseconds; null where nobody entered it before `at`, or its time is up then. */
  meantUntil(kind: IntentKind): number | null;
  readonly load: Load | null;
  /** The newest warm-up against the usual one; null until one is known. */
  readonly warmUp: WarmUp | null;
  /** The last minutes; null until there are any. */
  readonly recent: Recent | null;
  /** What is usual for the heater; null for a place and before the first reading. */
  readonly band: HeaterBand | null;
  /** How fast and how evenly its thermostat switches; null until some cycles have closed. */
  readonly rhythm: Rhythm | null;
  /** What the cycles of a pot show of its level; null until some have closed. */
  readonly levelSigns: LevelSigns | null;
  /** How far a pot is below where it usually is at work; null until it was there for ten minutes. */
  readonly sinking: Sinking | null;
  /** How fast a pot falls while somebody works at it; null until it was at work. */
  readonly workFalls: WorkFalls | null;
  /** How far it stands from each of the places around it while it is off. */
  readonly rests: readonly Rest[];
  /** Kelvins above its usual band that it reaches after a warm-up. */
  readonly overshoot: number;
  /** Kelvins above its usual band that it stands since its probe leapt there, as no heater can; 0: it did not. */
  readonly lift: number;
  /** How far below its window people were called for; null: they were not of late. */
  readonly belowWindow: BelowWindow | null;
  /** When somebody last seemed to be at work there; 0: never. */
  readonly disturbedAt: number;
  /** When people were last called for a softener that fell without heat, epoch milliseconds; 0: never. */
  readonly fellEarlyAt: number;
  /** Doors of a softening cabinet; null for anything else and until it has been warm for a while. */
  readonly doors: DoorSigns | null;
  /** When its wax was last seen molten; 0: never. */
  readonly moltenAt: number;
  /** Whether any other heater of the lab was switched on or worked at of late; null when there is no other. */
  othersAtWork(): boolean | null;
  /** When somebody last seemed to be at work at another heater of the lab, epoch milliseconds; 0: never. */
  workedAroundAt(): number;
  /** Minutes since local midnight at `at`. */
  minuteOfDay(): number;
  /** Extremes of the last closed stretch; null until one is over. */
  readonly overnight: OvernightExtremes | null;
  /** Patterns that lie here. */
  readonly patterns: readonly PatternOutlook[];
}

export interface ProbeInput {
  readonly probe: string;
  readonly station: Station | null;
  readonly gateway: string;
  readonly at: number;
  readonly celsius: number;
  readonly newestAt: number;
  /** From when its silence counts: the newest reading, or when its gateway or the watch came back. */
  readonly silentSince: number;
  /** When its gateway reported that it is gone; null while it did not. */
  readonly goneAt: number | null;
  /** Usual seconds between readings. */
  readonly periodSeconds: number;
  /** Usual seconds between arrivals: more where its gateway gathers readings. */
  readonly deliversEverySeconds: number;
  readonly uncertainty: number;
  readonly signal: ProbeSignal;
  /** It belongs to a heater that is hot. */
  readonly isAtWork: boolean;
  /** Its heater rests at one temperature while it is on, or it is not known yet whether it does. */
  readonly mayBeHeldSteady: boolean;
  /** No other probe is at its station. */
  readonly isAlone: boolean;
  /** The other fresh probes of the same station. */
  readonly twins: readonly FreshProbe[];
  /** How far it stands from them, at a place; null at a heater, and of a lone one. */
  readonly apart: Apart | null;
  /** The same of each of them. */
  apartOfTwins(): readonly Apart[];
  /**
   * Kelvins by which its place should have moved since the instant, going by the place around it that moved least; null
   * where none shows it.
   */
  expectedMove(since: number): number | null;
  /** ISO 8601 date. */
  readonly calibrationDue: string | null;
}

export interface GatewayInput {
  readonly gateway: string;
  readonly at: number;
  /** By its own message or last will; null before either. */
  readonly online: boolean | null;
  readonly changedAt: number | null;
  readonly probes: number;
  readonly silentProbes: number;
  /** All its probes fell silent. */
  readonly allSilent: boolean;
  /** Null while none of them ever sent anything. */
  readonly lastReadingAt: number | null;
  /** Nobody need be woken for what its stations might do unseen. */
  canWait(): boolean;
  /** Names of its stations that were on when last seen, and of those where patterns lie. */
  whatToLookAt(): Evidence;
  /** How far its clock is steadily behind, negative when it is ahead; null while that is not known. */
  readonly clockLagMillis: number | null;
  /** Its clock jumped several times within an hour. */
  readonly isClockUnsteady: boolean;
}

export interface PatternInput {
  readonly pattern: Pattern;
  readonly outlook: PatternOutlook;
  readonly at: number;
}

export interface SelfInput {
  readonly at: number;
  readonly part: 'store' | 'disk' | 'phone-subscriptions' | 'channel';
  readonly name: string;
  readonly ok: boolean;
  readonly detail: string;
}
