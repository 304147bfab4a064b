// A pot of wax: metal body with the heater, wax with its melting plateau, losses through wall and open surface,
// a thermostat whose feeler sits between body and wax, a lid, a level that dipping lowers and topping up restores.

import { balanceSince, booksAt, type HeatBooks, type HeatPath, heatStep, massStore } from './heat-network.ts';
import type { StationModel } from './station-model.ts';
import { type ThermostatDesign, type ThermostatState, thermostatStep } from './thermostat.ts';
import { type MeltingRange, waxStore } from './wax-store.ts';

export interface PotDesign {
  readonly bodyJoulesPerKelvin: number;
  readonly waxGrams: number;
  readonly melting: MeltingRange;
  readonly heaterWatts: number;
  readonly thermostat: ThermostatDesign;
  /** 1: the feeler touches the body; 0: it hangs in the wax. */
  readonly feelsBody: number;
  /** At a full pot; falls with the wetted wall. */
  readonly bodyToWax: number;
  readonly wallLoss: number;
  readonly surfaceLoss: number;
  /** What the lid leaves of the surface loss. */
  readonly lidFactor: number;
  /** Heat that cold dies or strips take while work goes on. */
  readonly dippingWatts: number;
  readonly dippingGramsPerHour: number;
}

const BODY = 0;
const WAX = 1;
const ROOM = 2;
/** Below this share of the full mark nobody dips any more. */
const LEAST_LEVEL = 0.3;

export const potModel = (design: PotDesign, startCelsius: number): StationModel => {
  const body = massStore(design.bodyJoulesPerKelvin);
  let grams = design.waxGrams;
  let stores = [body, waxStore(grams, design.melting)] as const;
  let books: HeatBooks = booksAt(stores, [startCelsius, startCelsius]);
  const start = books;
  let thermostat: ThermostatState = { feltCelsius: startCelsius, closed: false };
  let warmerThanRoom = 0;

  const bodyCelsius = () => body.celsiusAt(books.joules[BODY] ?? 0);
  const waxCelsius = () => stores[WAX].celsiusAt(books.joules[WAX] ?? 0);

  /** Wax that leaves takes its heat along; wax that comes brings its own: both stand in the books as supply. */
  const level = (target: number, addedCelsius: number) => {
    const before = books.joules[WAX] ?? 0;
    const after =
      target < grams
        ? (before * target) / grams
        : before + waxStore(target - grams, design.melting).joulesAt(addedCelsius);
    grams = target;
    stores = [body, waxStore(grams, design.melting)];
    books = {
      ...books,
      joules: [books.joules[BODY] ?? 0, after],
      supplied: books.supplied + after - before,
    };
  };

  return {
    advance: (input, seconds) => {
      const full = design.waxGrams;
      if (input.toppedUp && grams < full) level(full, input.roomCelsius);
      if (grams > full * input.levelAtMost) level(full * input.levelAtMost, input.roomCelsius);
      const molten = waxCelsius() > design.melting.liquidus;
      const works = input.busy && molten && grams > full * LEAST_LEVEL;
      if (works) level(grams - (design.dippingGramsPerHour / 3600) * seconds, input.roomCelsius);

      const felt = design.feelsBody * bodyCelsius() + (1 - design.feelsBody) * waxCelsius();
      thermostat = thermostatStep(thermostat, felt, seconds, design.thermostat, input.shiftCelsius);
      const heats = input.powered && input.on && (thermostat.closed || input.stuckOn);
      const paths: readonly HeatPath[] = [
        { a: BODY, b: WAX, wattsPerKelvin: design.bodyToWax * (grams / full) },
        { a: BODY, b: ROOM, wattsPerKelvin: design.wallLoss },
        { a: WAX, b: ROOM, wattsPerKelvin: design.surfaceLoss * (input.open ? 1 : design.lidFactor) },
      ];
      const watts = [heats ? design.heaterWatts : 0, works ? -design.dippingWatts : 0];
      books = heatStep(stores, paths, { watts, surroundings: [input.roomCelsius] }, books, seconds);
      warmerThanRoom = Math.max(bodyCelsius(), waxCelsius()) - input.roomCelsius;
    },
    celsius: () => ({ wax: waxCelsius(), body: bodyCelsius() }),
    balance: () => balanceSince(start, books),
    isLively: () => warmerThanRoom > 2,
  };
};
