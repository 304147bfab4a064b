// Where patterns wait: a closed cabinet that follows the room slowly, and an open shelf that follows it at once
// and gets the afternoon sun.

import { balanceSince, booksAt, type HeatBooks, type HeatPath, heatStep, massStore } from './heat-network.ts';
import type { StationModel } from './station-model.ts';

export interface StorageDesign {
  readonly airJoulesPerKelvin: number;
  readonly contentsJoulesPerKelvin: number;
  readonly airToContents: number;
  readonly airToRoom: number;
  /** Added while its door is open. */
  readonly doorLoss: number;
  readonly sunWatts: number;
}

export const storageModel = (design: StorageDesign, startCelsius: number): StationModel => {
  const stores = [massStore(design.airJoulesPerKelvin), massStore(design.contentsJoulesPerKelvin)];
  let books: HeatBooks = booksAt(stores, [startCelsius, startCelsius]);
  const start = books;
  const celsiusOf = (index: number) => stores[index]?.celsiusAt(books.joules[index] ?? 0) ?? 0;

  return {
    advance: (input, seconds) => {
      const toRoom = design.airToRoom + (input.open ? design.doorLoss : 0);
      const paths: readonly HeatPath[] = [
        { a: 0, b: 1, wattsPerKelvin: design.airToContents },
        { a: 0, b: 2, wattsPerKelvin: toRoom },
      ];
      const sun = design.sunWatts * input.sun;
      const drive = { watts: [sun / 2, sun / 2], surroundings: [input.roomCelsius] };
      books = heatStep(stores, paths, drive, books, seconds);
    },
    celsius: () => ({ air: celsiusOf(0), contents: celsiusOf(1) }),
    balance: () => balanceSince(start, books),
    isLively: () => false,
  };
};
