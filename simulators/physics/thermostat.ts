// A bimetal or two-point thermostat: it closes below its band, opens above it, and feels the temperature late.

export interface ThermostatDesign {
  readonly closesBelow: number;
  readonly opensAbove: number;
  /** First-order lag of its feeler; 0 for none. */
  readonly lagSeconds: number;
}

export interface ThermostatState {
  readonly feltCelsius: number;
  readonly closed: boolean;
}

export const lagged = (before: number, now: number, lagSeconds: number, seconds: number): number =>
  lagSeconds <= 0 ? now : now + (before - now) * Math.exp(-seconds / lagSeconds);

export const thermostatStep = (
  state: ThermostatState,
  celsius: number,
  seconds: number,
  { closesBelow, opensAbove, lagSeconds }: ThermostatDesign,
  shiftCelsius: number,
): ThermostatState => {
  const feltCelsius = lagged(state.feltCelsius, celsius, lagSeconds, seconds);
  const closed = state.closed
    ? feltCelsius < opensAbove + shiftCelsius
    : feltCelsius <= closesBelow + shiftCelsius;
  return { feltCelsius, closed };
};
