// The lab in the database: read as one immutable value, changed by whole records.

import type { CastingMaterial } from '../casting-material.ts';
import type { Charge } from '../charge.ts';
import type { Lab, Probe, Site } from '../lab.ts';
import type { Pattern } from '../pattern.ts';
import type { Person } from '../person.ts';
import type { Station } from '../station.ts';
import type { WaxLot } from '../wax-lot.ts';
import type { NotificationPlan } from '../notification-plan.ts';
import type { SettingsHistory } from './settings-history.ts';

export interface LabRepository {
  /** The lab now; the same object until something changes. */
  readonly lab: () => Lab;
  /** By which settings readings were judged, and since when. */
  readonly history: SettingsHistory;
  readonly isEmpty: () => boolean;
  /** Replaces the whole described lab (site, stations, probes, overrides); history stays. */
  readonly replace: (lab: Lab) => void;
  readonly saveSite: (site: Site) => void;
  readonly saveStation: (station: Station) => void;
  readonly removeStation: (id: string) => void;
  readonly saveProbe: (probe: Probe) => void;
  /** Its versions stay in the history. */
  readonly removeProbe: (id: string) => void;
  readonly saveCharge: (charge: Charge) => void;
  readonly saveLot: (lot: WaxLot) => void;
  readonly removeLot: (id: string) => void;
  readonly saveCastingMaterial: (material: CastingMaterial) => void;
  readonly removeCastingMaterial: (id: string) => void;
  readonly savePattern: (pattern: Pattern) => void;
  readonly savePerson: (person: Person) => void;
  readonly removePerson: (id: string) => void;
  readonly saveNotificationPlan: (plan: NotificationPlan) => void;
  readonly saveWaxOverride: (wax: string, values: Readonly<Record<string, number>>) => void;
  /** Ended charges and patterns too, newest first. */
  readonly allCharges: (station?: string) => readonly Charge[];
  readonly allPatterns: (limit?: number) => readonly Pattern[];
  readonly findCharge: (id: string) => Charge | undefined;
  readonly findPattern: (id: string) => Pattern | undefined;
  readonly onChange: (listener: () => void) => () => void;
}
