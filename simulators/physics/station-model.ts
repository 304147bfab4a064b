// What every simulated place has in common: it is driven by the room and by people, and can be asked how warm it is.

export interface StationInput {
  readonly roomCelsius: number;
  readonly outdoorsCelsius: number;
  /** Mains is there. */
  readonly powered: boolean;
  /** Someone switched it on; for the room, its heating runs by day. */
  readonly on: boolean;
  /** The thermostat's contact is welded shut. */
  readonly stuckOn: boolean;
  /** Raised (or lowered) set point of the thermostat. */
  readonly shiftCelsius: number;
  /** Lid off, door open, window open: what the place has of these. */
  readonly open: boolean;
  /** Work goes on in it: dipping, trays in the bath, people in the room. */
  readonly busy: boolean;
  /** A cold load was put in at this step. */
  readonly freshLoad: boolean;
  /** Wax brought to the full mark at this step. */
  readonly toppedUp: boolean;
  /** 0 to 1; above 0 wax is missing: at most this share of the full mark is there. */
  readonly levelAtMost: number;
  /** 0 to 1: how much sun falls in. */
  readonly sun: number;
}

export interface StationModel {
  readonly advance: (input: StationInput, seconds: number) => void;
  /** Temperatures where probes may sit, by the name of the spot. */
  readonly celsius: () => Readonly<Record<string, number>>;
  /** Joules supplied, lost, and held more than at the start, since the start: the first is the sum of the others. */
  readonly balance: () => { readonly supplied: number; readonly lost: number; readonly gained: number };
  /** Whether it changes fast enough to need a short step. */
  readonly isLively: () => boolean;
}

export const QUIET: StationInput = {
  roomCelsius: 20,
  outdoorsCelsius: 8,
  powered: true,
  on: false,
  stuckOn: false,
  shiftCelsius: 0,
  open: false,
  busy: false,
  freshLoad: false,
  toppedUp: false,
  levelAtMost: 1,
  sun: 0,
};
