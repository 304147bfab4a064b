// A softening cabinet: heated wall, air above and below, a load that warms through; a door that lets the heat out.
// Its upper and lower air differ, as they do in a box without a fan, and differ more while the door stands open.

import { balanceSince, booksAt, type HeatBooks, type HeatPath, heatStep, massStore } from './heat-network.ts';
import type { StationModel } from './station-model.ts';
import { type ThermostatDesign, type ThermostatState, thermostatStep } from './thermostat.ts';

export interface AnnealerDesign {
  readonly heaterWatts: number;
  readonly thermostat: ThermostatDesign;
  readonly wallJoulesPerKelvin: number;
  readonly airJoulesPerKelvin: number;
  readonly loadJoulesPerKelvin: number;
}

const WALL = 0;
const UPPER = 1;
const LOWER = 2;
const LOAD = 3;
const ROOM = 4;

export const annealerModel = (design: AnnealerDesign, startCelsius: number): StationModel => {
  const load = massStore(design.loadJoulesPerKelvin);
  const air = massStore(design.airJoulesPerKelvin);
  const stores = [massStore(design.wallJoulesPerKelvin), air, air, load];
  let books: HeatBooks = booksAt(
    stores,
    stores.map(() => startCelsius),
  );
  const start = books;
  let thermostat: ThermostatState = { feltCelsius: startCelsius, closed: false };
  let warmerThanRoom = 0;
  const celsiusOf = (index: number) => stores[index]?.celsiusAt(books.joules[index] ?? 0) ?? 0;

  return {
    advance: (input, seconds) => {
      if (input.freshLoad) {
        const brought = load.joulesAt(input.roomCelsius) - (books.joules[LOAD] ?? 0);
        const joules = books.joules.map((held, i) => (i === LOAD ? held + brought : held));
        books = { ...books, joules, supplied: books.supplied + brought };
      }
      thermostat = thermostatStep(
        thermostat,
        celsiusOf(UPPER),
        seconds,
        design.thermostat,
        input.shiftCelsius,
      );
      const heats = input.powered && input.on && (thermostat.closed || input.stuckOn);
      const door = input.open ? 1 : 0;
      const paths: readonly HeatPath[] = [
        { a: WALL, b: UPPER, wattsPerKelvin: 3.2 },
        { a: WALL, b: LOWER, wattsPerKelvin: 2.6 },
        { a: UPPER, b: LOWER, wattsPerKelvin: 1.5 },
        { a: UPPER, b: LOAD, wattsPerKelvin: 0.25 },
        { a: LOWER, b: LOAD, wattsPerKelvin: 0.25 },
        { a: WALL, b: ROOM, wattsPerKelvin: 0.9 },
        { a: LOWER, b: ROOM, wattsPerKelvin: 0.1 + door * 1.6 },
        { a: UPPER, b: ROOM, wattsPerKelvin: 0.05 + door * 1.1 },
      ];
      const watts = [heats ? design.heaterWatts : 0, 0, 0, 0];
      books = heatStep(stores, paths, { watts, surroundings: [input.roomCelsius] }, books, seconds);
      warmerThanRoom = celsiusOf(WALL) - input.roomCelsius;
    },
    celsius: () => ({
      upper: celsiusOf(UPPER),
      lower: celsiusOf(LOWER),
      wall: celsiusOf(WALL),
      load: celsiusOf(LOAD),
    }),
    balance: () => balanceSince(start, books),
    isLively: () => warmerThanRoom > 1,
  };
};
