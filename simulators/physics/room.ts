// The laboratory room: air and fabric, radiators with a day and a night set point, people, sun, and a window
// that someone may leave open; outdoors a season's mean, the day's wave and slow weather.

import { balanceSince, booksAt, type HeatBooks, type HeatPath, heatStep, massStore } from './heat-network.ts';
import type { StationModel } from './station-model.ts';

export interface RoomDesign {
  /** Air with furniture and surface layers: what answers within minutes. */
  readonly airJoulesPerKelvin: number;
  readonly fabricJoulesPerKelvin: number;
  readonly airToFabric: number;
  readonly airToOutdoors: number;
  readonly fabricToOutdoors: number;
  readonly openWindow: number;
  readonly radiatorWatts: number;
  readonly dayCelsius: number;
  readonly nightCelsius: number;
  /** The radiator valve opens fully this far below the set point. */
  readonly valveSpan: number;
  readonly peopleWatts: number;
  readonly sunWatts: number;
}

export const roomModel = (design: RoomDesign, startCelsius: number): StationModel => {
  const stores = [massStore(design.airJoulesPerKelvin), massStore(design.fabricJoulesPerKelvin)];
  let books: HeatBooks = booksAt(stores, [startCelsius, startCelsius - 0.5]);
  const start = books;
  const celsiusOf = (index: number) => stores[index]?.celsiusAt(books.joules[index] ?? 0) ?? 0;

  return {
    advance: (input, seconds) => {
      const wanted = (input.on ? design.dayCelsius : design.nightCelsius) + input.shiftCelsius;
      const valve = Math.min(1, Math.max(0, (wanted - celsiusOf(0)) / design.valveSpan + 0.5));
      const radiator = input.powered ? valve * design.radiatorWatts : 0;
      const window = input.open ? design.openWindow : 0;
      const paths: readonly HeatPath[] = [
        { a: 0, b: 1, wattsPerKelvin: design.airToFabric },
        { a: 0, b: 2, wattsPerKelvin: design.airToOutdoors + window },
        { a: 1, b: 2, wattsPerKelvin: design.fabricToOutdoors },
      ];
      const sun = design.sunWatts * input.sun;
      const people = input.busy ? design.peopleWatts : 0;
      const watts = [radiator + people + sun * 0.3, sun * 0.7];
      books = heatStep(stores, paths, { watts, surroundings: [input.outdoorsCelsius] }, books, seconds);
    },
    celsius: () => ({ air: celsiusOf(0), fabric: celsiusOf(1) }),
    balance: () => balanceSince(start, books),
    isLively: () => false,
  };
};
