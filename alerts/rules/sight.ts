// What a rule may see: measured once for each reading or tick, handed to every rule, changed by none.
// Temperatures in degrees Celsius, instants in epoch milliseconds, sample time for readings.

import type { StationLimits } from '../../lab/limits.ts';
import type { Pattern } from '../../lab/pattern.ts';
import type { Station } from '../../lab/station.ts';
import type { WaxClass } from '../../wax/wax-class.ts';
import type { Activity } from '../measures/activity.ts';
import type { PatternOutlook } from '../measures/pattern-outlook.ts';

export interface StationSight {
  readonly station: Station;
  readonly limits: StationLimits;
  readonly wax: WaxClass | null;
  readonly at: number;
  readonly celsius: number;
  /** Expanded uncertainty (k = 2) of the probe that gave the value. */
  readonly uncertainty: number;
  readonly celsiusPerHour: number | null;
  readonly activity: Activity;
}

export interface ProbeSight {
  readonly probe: string;
  readonly station: Station | null;
  readonly gateway: string;
  readonly at: number;
  readonly celsius: number;
  readonly newestAt: number;
  /** Usual seconds between readings. */
  readonly periodSeconds: number;
}

export interface GatewaySight {
  readonly gateway: string;
  readonly at: number;
  /** By its own word or last will; null when it never said. */
  readonly online: boolean | null;
  readonly changedAt: number | null;
  readonly probes: number;
  readonly silentProbes: number;
  /** All its probes fell silent. */
  readonly allSilent: boolean;
  readonly lastReadingAt: number | null;
}

export interface PatternSight {
  readonly pattern: Pattern;
  readonly outlook: PatternOutlook;
  readonly at: number;
}

export interface SelfSight {
  readonly at: number;
  readonly part: 'store' | 'disk' | 'phone-subscriptions' | 'channel';
  readonly name: string;
  readonly ok: boolean;
  readonly detail: string;
}
