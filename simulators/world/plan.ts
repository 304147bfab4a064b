// What a simulated lab is before it is run: places with their physics, what people do there, probes and gateways.
// Faults are laid over it by adding to its lists; nothing here computes a temperature.

import type { CalendarDay, LabHours } from '../days/calendar.ts';
import type { Spell } from '../days/spell.ts';
import type { Climate } from '../physics/outdoors.ts';
import type { StationModel } from '../physics/station-model.ts';
import type { MeltingRange } from '../physics/wax-store.ts';

/** What goes wrong with a probe, while its place stays as it is. */
export type ProbeTrouble = { readonly from: number; readonly to: number } & (
  | { readonly kind: 'stuck' }
  /** It hangs elsewhere: at another spot, perhaps of another station, with another lag. */
  | { readonly kind: 'moved'; readonly station: string; readonly spot: string; readonly lagFactor: number }
  | { readonly kind: 'drift'; readonly kelvinPerHour: number }
  | {
      readonly kind: 'loose';
      /** Bad spells of so many seconds on the mean, good ones of so many. */
      readonly badSeconds: number;
      readonly goodSeconds: number;
      readonly scatterKelvin: number;
      readonly lostShare: number;
    }
);

export interface WorldProbe {
  readonly id: string;
  readonly where: string;
  readonly spot: string;
  readonly gateway: string;
  readonly seconds: number;
  readonly resolutionKelvin: number;
  readonly noiseKelvin: number;
  readonly lagSeconds: number;
  readonly offsetKelvin: number;
  readonly lostShare: number;
  readonly troubles: ProbeTrouble[];
}

export type GatewayTrouble = {
  readonly from: number;
  readonly to: number;
} /** Nothing arrives; what was measured comes later with its own stamps, or never. */ & (
  | { readonly kind: 'silent'; readonly buffers: boolean }
  | { readonly kind: 'clock'; readonly offsetMillis: number }
);

export interface GatewayPlan {
  readonly id: string;
  /** Scatter of the way to the lab's computer; 0 where it takes 0.4 s always. */
  readonly jitterMillis: number;
  readonly troubles: GatewayTrouble[];
}

interface AnyStation {
  readonly id: string;
  /** In plain words. */
  readonly called: string;
  readonly build: (startCelsius: number, source: () => number) => StationModel;
  /** The room that it stands in; null for a room. */
  readonly room: string | null;
  readonly spells: Spell[];
  readonly probes: WorldProbe[];
}

export interface HeaterHabits {
  /** When people switched it on, from and to, by plan: no fault changes these. */
  readonly runs: { readonly from: number; readonly to: number }[];
  readonly readyBy: string | null;
}

export interface PotPlan extends AnyStation, HeaterHabits {
  readonly kind: 'pot';
  readonly wax: string;
  readonly melting: MeltingRange;
  readonly setCelsius: number;
  readonly ceilingCelsius: number;
  readonly control: 'on-off' | 'proportional';
  readonly watts: number;
  readonly hysteresisKelvin: number;
  readonly periodSeconds: number;
  readonly warmUpSeconds: number;
  readonly bareBelow: number;
}

interface SoftenerPlan extends AnyStation, HeaterHabits {
  readonly setCelsius: number;
  readonly window: readonly [number, number];
  readonly ceilingCelsius: number;
  readonly warmUpSeconds: number;
}

export interface AnnealerPlan extends SoftenerPlan {
  readonly kind: 'annealer';
  readonly soakMinutes: number;
  readonly unevenKelvin: number;
  /** Loads in and out. */
  readonly soaks: { readonly from: number; readonly to: number }[];
}

export interface BathPlan extends SoftenerPlan {
  readonly kind: 'bath';
}

export interface LampPlan extends AnyStation {
  readonly kind: 'lamp';
  readonly ceilingCelsius: number;
}

export interface StoragePlan extends AnyStation {
  readonly kind: 'room' | 'shelf' | 'cabinet';
  /** What is usual to demand there; widened where the place in good order does not keep it. */
  readonly usual: { readonly low: number; readonly high: number; readonly swing: number };
  readonly isRegulated: boolean;
  readonly hasPatterns: boolean;
}

export type WorldStation = PotPlan | AnnealerPlan | BathPlan | LampPlan | StoragePlan;
export type HeaterPlan = PotPlan | AnnealerPlan | BathPlan;

export interface WorldPlan {
  readonly seed: number;
  readonly hours: LabHours;
  /** From the day before the case on, to the day after it. */
  readonly days: readonly CalendarDay[];
  readonly starts: number;
  readonly ends: number;
  readonly climate: Climate;
  readonly stations: readonly WorldStation[];
  readonly gateways: readonly GatewayPlan[];
}

export const isStorage = (station: WorldStation): station is StoragePlan =>
  station.kind === 'room' || station.kind === 'shelf' || station.kind === 'cabinet';
export const isHeater = (station: WorldStation): station is HeaterPlan =>
  station.kind === 'pot' || station.kind === 'annealer' || station.kind === 'bath';
