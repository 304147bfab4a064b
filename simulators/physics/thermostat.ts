// What switches a heater: a bimetal or two-point thermostat that closes below its band and opens above it, or a
// controller that gives power in proportion. Both feel the temperature late.

export interface ThermostatDesign {
  readonly closesBelow: number;
  readonly opensAbove: number;
  /** First-order lag of its feeler; 0 for none. */
  readonly lagSeconds: number;
}

export interface ProportionalDesign {
  readonly setCelsius: number;
  /** Full power at this many kelvin below where there is none. */
  readonly bandKelvin: number;
  /** Share of the power at the set point. */
  readonly restShare: number;
  readonly lagSeconds: number;
}

export type ControlDesign = ThermostatDesign | ProportionalDesign;

export interface Control {
  /** Time passes with the feeler at a true temperature; returns the share of the power that is demanded. */
  readonly step: (
    celsius: number,
    seconds: number,
    shiftCelsius: number,
    chatters: boolean,
    stuckOn: boolean,
  ) => number;
  /** Times that the contact has closed or opened. */
  readonly switchings: () => number;
}

export const applyLag = (before: number, now: number, lagSeconds: number, seconds: number): number =>
  lagSeconds <= 0 ? now : now + (before - now) * Math.exp(-seconds / lagSeconds);

/** A bouncing contact stays as it is for so long on the mean. */
const CHATTER_SECONDS = { closed: 9, open: 5 };

/** @param source numbers from 0 to 1, drawn only while the contact bounces. */
export const control = (design: ControlDesign, startCelsius: number, source: () => number): Control => {
  const now = { felt: startCelsius, turn: 0 };
  let asks = false;
  let conducts = false;
  let switchings = 0;
  const isTwoPoint = 'closesBelow' in design;

  const twoPoint = (
    { closesBelow, opensAbove }: ThermostatDesign,
    shift: number,
    seconds: number,
    chatters: boolean,
  ) => {
    const before = asks;
    asks = asks ? now.felt < opensAbove + shift + now.turn : now.felt <= closesBelow + shift + now.turn;
    if (!chatters) {
      now.turn = 0;
      return asks;
    }
    if (asks !== before) now.turn = (source() - 0.5) * 0.9 * (opensAbove - closesBelow);
    if (!asks) return false;
    const mean = conducts ? CHATTER_SECONDS.closed : CHATTER_SECONDS.open;
    return source() < 1 - Math.exp(-seconds / mean) ? !conducts : conducts;
  };

  return {
    step: (celsius, seconds, shiftCelsius, chatters, stuckOn) => {
      now.felt = applyLag(now.felt, celsius, design.lagSeconds, seconds);
      if (!isTwoPoint) {
        const { setCelsius, bandKelvin, restShare } = design;
        const share = restShare + (setCelsius + shiftCelsius - now.felt) / bandKelvin;
        return stuckOn ? 1 : Math.min(1, Math.max(0, share));
      }
      const closes = twoPoint(design, shiftCelsius, seconds, chatters) || stuckOn;
      if (closes !== conducts) switchings += 1;
      conducts = closes;
      return closes ? 1 : 0;
    },
    switchings: () => switchings,
  };
};
