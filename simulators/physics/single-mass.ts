// Places that one lump of heat describes well enough: a water bath, the plate under an infra-red lamp.

import { balanceSince, booksAt, type HeatBooks, type HeatPath, heatStep, massStore } from './heat-network.ts';
import type { StationModel } from './station-model.ts';
import { type ThermostatDesign, type ThermostatState, thermostatStep } from './thermostat.ts';

export interface SingleMassDesign {
  readonly joulesPerKelvin: number;
  readonly heaterWatts: number;
  /** A lamp has none: it burns while it is on. */
  readonly thermostat: ThermostatDesign | null;
  readonly loss: number;
  /** Added while its lid is off. */
  readonly openLoss: number;
  /** Heat that cold trays or sheets take while work goes on. */
  readonly workingWatts: number;
}

export const singleMassModel = (design: SingleMassDesign, startCelsius: number): StationModel => {
  const stores = [massStore(design.joulesPerKelvin)];
  let books: HeatBooks = booksAt(stores, [startCelsius]);
  const start = books;
  let thermostat: ThermostatState = { feltCelsius: startCelsius, closed: false };
  let warmerThanRoom = 0;
  const celsiusNow = () => (books.joules[0] ?? 0) / design.joulesPerKelvin;

  return {
    advance: (input, seconds) => {
      let calls = true;
      if (design.thermostat !== null) {
        thermostat = thermostatStep(thermostat, celsiusNow(), seconds, design.thermostat, input.shiftCelsius);
        calls = thermostat.closed || input.stuckOn;
      }
      const heats = input.powered && input.on && calls;
      const loss = design.loss + (input.open ? design.openLoss : 0);
      const paths: readonly HeatPath[] = [{ a: 0, b: 1, wattsPerKelvin: loss }];
      const works = input.busy && celsiusNow() > input.roomCelsius + 5;
      const watts = [(heats ? design.heaterWatts : 0) - (works ? design.workingWatts : 0)];
      books = heatStep(stores, paths, { watts, surroundings: [input.roomCelsius] }, books, seconds);
      warmerThanRoom = celsiusNow() - input.roomCelsius;
    },
    celsius: () => ({ middle: celsiusNow() }),
    balance: () => balanceSince(start, books),
    isLively: () => warmerThanRoom > 1,
  };
};
