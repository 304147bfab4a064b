// What the lab has, as one immutable value: rules read it, persistence keeps it, the lab file writes it down.

import type { CalibrationEntry } from './calibration-entry.ts';
import type { CastingMaterial } from './casting-material.ts';
import type { Charge } from './charge.ts';
import type { OwnFigures } from './own-figures.ts';
import type { Pattern } from './pattern.ts';
import type { PatternCare } from './pattern-care.ts';
import type { Person } from './person.ts';
import type { Sensor } from './sensor.ts';
import type { Station } from './station.ts';
import type { WaxLot } from './wax-lot.ts';
import type { NotificationPlan } from './notification-plan.ts';

export interface Probe {
  readonly id: string;
  readonly gateway: string;
  /** The station it belongs to; null while it is unclaimed. */
  readonly station: string | null;
  /** Added to every reading; from the last calibration. */
  readonly correction_celsius: number;
  /** Expanded uncertainty (k = 2). */
  readonly uncertainty_celsius: number;
  /** What a bare sensor is that sends ohms or millivolts; absent where the probe sends degrees. */
  readonly sensor?: Sensor;
  /** Digital probes of the kind that answers 85.000 °C after power-on. */
  readonly powersOnAt85?: boolean;
  /** At and below it its battery is low, by the data sheet of its device; absent: volts are shown and not judged. */
  readonly battery_low_volts?: number;
  readonly calibrationDue?: string;
  /** `YYYY-MM-DD`: it measures no more, for good; its readings stay. */
  readonly retiredOn?: string;
  /** Takes the place of the correction where the probe was held against a reference at several temperatures. */
  readonly calibration?: CalibrationEntry;
}

export const WEEKDAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
export type Weekday = (typeof WEEKDAYS)[number];

/** Wall-clock spans in the site's zone, as `HH:MM`; a day without spans is closed. */
export type WorkingHours = Readonly<Record<Weekday, readonly (readonly [opens: string, closes: string])[]>>;

export interface Site {
  /** Topic-safe: lower-case letters, digits, `-`. */
  readonly id: string;
  readonly name: string;
  /** IANA name. */
  readonly timeZone: string;
  readonly workingHours: WorkingHours;
  /** Closed days, `YYYY-MM-DD`. */
  readonly holidays: readonly string[];
  /** What the lab requires of waiting patterns; absent: the defaults. */
  readonly patternCare?: PatternCare;
  /** Of the rules about gateways, patterns and the program itself. */
  readonly rules?: OwnFigures;
}

export interface Lab {
  readonly site: Site;
  readonly stations: readonly Station[];
  readonly probes: readonly Probe[];
  /** Charges now in pots; ended ones stay in the database. */
  readonly charges: readonly Charge[];
  /** Purchases of wax, also those that are used up. */
  readonly lots?: readonly WaxLot[];
  /** The lab's own alloys and investments. */
  readonly castingMaterials?: readonly CastingMaterial[];
  /** Patterns that wait to be invested; ended ones stay in the database. */
  readonly patterns: readonly Pattern[];
  readonly people: readonly Person[];
  /** Who is notified of alarms; absent until the lab plans it. */
  readonly notificationPlan?: NotificationPlan;
  /** Values of wax classes that the lab overrides: class id, then the name of the value. */
  readonly waxOverrides: Readonly<Record<string, Readonly<Record<string, number>>>>;
}
