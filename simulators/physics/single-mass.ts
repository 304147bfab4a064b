// Places that one lump of heat describes well enough: a water bath, the plate under an infra-red lamp.

import { heatNetwork, massStore } from './heat-network.ts';
import type { StationModel } from './station-model.ts';
import { type ControlDesign, control } from './thermostat.ts';

export interface SingleMassDesign {
  readonly joulesPerKelvin: number;
  readonly heaterWatts: number;
  /** A lamp has none: it burns while it is on. */
  readonly thermostat: ControlDesign | null;
  readonly loss: number;
  /** Added while its lid is off. */
  readonly openLoss: number;
  /** Heat that cold trays or sheets take while work goes on. */
  readonly workingWatts: number;
}

export const singleMassModel = (
  design: SingleMassDesign,
  startCelsius: number,
  source: () => number = () => 0.5,
): StationModel => {
  const paths = [{ a: 0, b: 1, wattsPerKelvin: design.loss }];
  const heat = heatNetwork([massStore(design.joulesPerKelvin)], paths, [startCelsius], [startCelsius]);
  const thermostat = design.thermostat && control(design.thermostat, startCelsius, source);
  const now = { warmerThanRoom: 0 };

  return {
    advance: (input, seconds) => {
      const celsius = heat.celsius(0);
      const { shiftCelsius, chatters, stuckOn, roomCelsius } = input;
      const share = thermostat?.step(celsius, seconds, shiftCelsius, chatters, stuckOn) ?? 1;
      const heats = input.powered && input.on ? share * input.elementShare : 0;
      const works = input.busy && celsius > roomCelsius + 5;
      heat.wattsPerKelvin[0] = design.loss + (input.open ? design.openLoss : 0);
      heat.watts[0] = heats * design.heaterWatts - (works ? design.workingWatts : 0);
      heat.surroundings[0] = roomCelsius;
      heat.step(seconds);
      now.warmerThanRoom = heat.celsius(0) - roomCelsius;
    },
    spots: { middle: () => heat.celsius(0), switchings: () => thermostat?.switchings() ?? 0 },
    balance: heat.balance,
    isLively: () => now.warmerThanRoom > 1,
  };
};
