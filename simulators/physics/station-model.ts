// What every simulated place has in common: it is driven by the room and by people, and its temperature can be read.

import type { HeatBalance } from './heat-network.ts';

export interface HeatInput {
  readonly roomCelsius: number;
  readonly outdoorsCelsius: number;
  /** Mains is there. */
  readonly powered: boolean;
  /** Someone switched it on; for the room, its heating runs by day. */
  readonly on: boolean;
  /** The thermostat's contact is welded shut. */
  readonly stuckOn: boolean;
  /** The thermostat's contact bounces: it opens and closes for seconds, and turns at uncertain temperatures. */
  readonly chatters: boolean;
  /** What the heater, or the radiator, gives of its full power. */
  readonly elementShare: number;
  /** Raised (or lowered) set point of the thermostat. */
  readonly shiftCelsius: number;
  /** Where above 0 the regulated air is driven so far past its set point before it turns. */
  readonly coarseKelvin: number;
  /** The fan that mixes its air runs. */
  readonly fanRuns: boolean;
  /** Lid off, door open, window open: what the place has of these; 1 is wide open. */
  readonly open: boolean;
  readonly openShare: number;
  /** Work goes on in it: dipping, trays in the bath, people in the room. */
  readonly busy: boolean;
  /** A cold load was put in at this step. */
  readonly freshLoad: boolean;
  /** Wax brought to the full mark at this step. */
  readonly toppedUp: boolean;
  /** Share of a full charge that was added at this step (with no more than the full mark in the pot after it). */
  readonly addedShare: number;
  /** How warm the added wax is; null for the room's temperature. */
  readonly addedCelsius: number | null;
  /** Share of a full charge that was ladled out at this step. */
  readonly ladledShare: number;
  /** 0 to 1; above 0 wax is missing: at most this share of the full mark is there. */
  readonly levelAtMost: number;
  /** 0 to 1: how much sun falls in. */
  readonly sun: number;
  /** What curtains and blinds let in of the sun. */
  readonly sunlit: number;
}

export interface StationModel {
  readonly advance: (input: HeatInput, seconds: number) => void;
  /** Temperatures where probes may sit, and what else is true of the place, by name. */
  readonly spots: Readonly<Record<string, () => number>>;
  readonly balance: () => HeatBalance;
  /** Whether it changes fast enough to need a short step. */
  readonly isLively: () => boolean;
}

export const QUIET: HeatInput = {
  roomCelsius: 20,
  outdoorsCelsius: 8,
  powered: true,
  on: false,
  stuckOn: false,
  chatters: false,
  elementShare: 1,
  shiftCelsius: 0,
  coarseKelvin: 0,
  fanRuns: true,
  open: false,
  openShare: 1,
  busy: false,
  freshLoad: false,
  toppedUp: false,
  addedShare: 0,
  addedCelsius: null,
  ladledShare: 0,
  levelAtMost: 1,
  sun: 0,
  sunlit: 1,
};
