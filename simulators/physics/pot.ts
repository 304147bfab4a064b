// A pot of wax: metal body with the heater, wax in one or more layers each with its melting plateau, losses through
// wall and open surface, a thermostat whose feeler sits between body and wax, a lid, a level that dipping and ladling
// lower and topping up restores. Where the level falls below the feeler or the probe, these are in the hot air.

import { type HeatPath, heatNetwork, massStore } from './heat-network.ts';
import type { StationModel } from './station-model.ts';
import { type ControlDesign, control } from './thermostat.ts';
import { type MeltingRange, waxStore } from './wax-store.ts';

export interface PotDesign {
  readonly bodyJoulesPerKelvin: number;
  readonly waxGrams: number;
  readonly melting: MeltingRange;
  readonly heaterWatts: number;
  readonly thermostat: ControlDesign;
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
  /** Of equal mass, from the bottom up; 1 where left out. */
  readonly layers?: number;
  /** Between two layers: through solid wax, and where both are molten and stir themselves. */
  readonly solidBetween?: number;
  readonly moltenBetween?: number;
  /** Layer that the probe sits in, from 0; the lowest where left out. */
  readonly probeLayer?: number;
  /** Shares of the full mark below which probe and feeler are bare; never where left out. */
  readonly probeBareBelow?: number;
  readonly feelerBareBelow?: number;
}

const BODY = 0;
/** Below this share of the full mark nobody dips any more. */
const LEAST_LEVEL = 0.3;
/** Air above hot wax lies so far up between the room and the wax. */
const AIR_ABOVE_SHARE = 0.35;

export const potModel = (
  design: PotDesign,
  startCelsius: number,
  source: () => number = () => 0.5,
): StationModel => {
  const layers = design.layers ?? 1;
  const room = 1 + layers;
  const top = layers;
  const body = massStore(design.bodyJoulesPerKelvin);
  const full = design.waxGrams;
  const share = 1 / layers;
  const wet: HeatPath[] = [];
  const between: HeatPath[] = [];
  for (let i = 1; i <= layers; i += 1) wet.push({ a: BODY, b: i, wattsPerKelvin: design.bodyToWax * share });
  for (let i = 2; i <= layers; i += 1) between.push({ a: i - 1, b: i, wattsPerKelvin: 0 });
  const WALL = 2 * layers - 1;
  const SURFACE = 2 * layers;
  const stores = [body, ...wet.map(() => waxStore(full * share, design.melting))];
  const heat = heatNetwork(
    stores,
    [
      ...wet,
      ...between,
      { a: BODY, b: room, wattsPerKelvin: design.wallLoss },
      { a: top, b: room, wattsPerKelvin: design.surfaceLoss },
    ],
    [startCelsius],
    stores.map(() => startCelsius),
  );
  const thermostat = control(design.thermostat, startCelsius, source);
  const now = { grams: full, airAbove: startCelsius, warmerThanRoom: 0 };

  const waxCelsius = () => {
    let sum = 0;
    for (let i = 1; i <= layers; i += 1) sum += heat.celsius(i);
    return sum * share;
  };

  /** Wax that leaves takes its heat along; wax that comes brings its own: both stand in the books as supply. */
  const level = (target: number, addedCelsius: number) => {
    if (target === now.grams || target <= 0) return;
    const store = waxStore(target * share, design.melting);
    const brought =
      target < now.grams ? 0 : waxStore((target - now.grams) * share, design.melting).joulesAt(addedCelsius);
    const left = target < now.grams ? target / now.grams : 1;
    for (let i = 1; i <= layers; i += 1) heat.replace(i, store, heat.joules(i) * left + brought);
    now.grams = target;
  };

  const feels = (): number => {
    const wax = waxCelsius();
    if (now.grams < full * (design.feelerBareBelow ?? 0))
      return 0.5 * design.feelsBody * heat.celsius(BODY) + (1 - 0.5 * design.feelsBody) * now.airAbove;
    return design.feelsBody * heat.celsius(BODY) + (1 - design.feelsBody) * wax;
  };

  const mix = () => {
    const { solidBetween = 0, moltenBetween = 0 } = design;
    for (let i = 2; i <= layers; i += 1) {
      const lower = heat.celsius(i - 1);
      const upper = heat.celsius(i);
      const { solidus, liquidus } = design.melting;
      const molten = Math.min(1, Math.max(0, (Math.min(lower, upper) - solidus) / (liquidus - solidus)));
      heat.wattsPerKelvin[layers + i - 2] = solidBetween + molten * molten * moltenBetween;
    }
  };

  return {
    advance: (input, seconds) => {
      const { roomCelsius } = input;
      const added = input.addedCelsius ?? roomCelsius;
      if (input.toppedUp && now.grams < full) level(full, added);
      if (input.addedShare > 0) level(Math.min(full, now.grams + full * input.addedShare), added);
      if (input.ladledShare > 0)
        level(Math.max(full * 0.05, now.grams - full * input.ladledShare), roomCelsius);
      if (now.grams > full * input.levelAtMost) level(full * input.levelAtMost, roomCelsius);
      const molten = waxCelsius() > design.melting.liquidus;
      const works = input.busy && molten && now.grams > full * LEAST_LEVEL;
      if (works) level(now.grams - (design.dippingGramsPerHour / 3600) * seconds, roomCelsius);

      const asks = thermostat.step(feels(), seconds, input.shiftCelsius, input.chatters, input.stuckOn);
      const heats = input.powered && input.on ? asks * input.elementShare : 0;
      const wetted = (design.bodyToWax * share * now.grams) / full;
      for (let i = 0; i < layers; i += 1) heat.wattsPerKelvin[i] = wetted;
      if (layers > 1) mix();
      heat.wattsPerKelvin[WALL] = design.wallLoss;
      heat.wattsPerKelvin[SURFACE] = design.surfaceLoss * (input.open ? 1 : design.lidFactor);
      heat.watts[BODY] = heats * design.heaterWatts;
      heat.watts[top] = works ? -design.dippingWatts : 0;
      heat.surroundings[0] = roomCelsius;
      heat.step(seconds);
      const wax = waxCelsius();
      now.airAbove = roomCelsius + AIR_ABOVE_SHARE * (heat.celsius(top) - roomCelsius);
      now.warmerThanRoom = Math.max(heat.celsius(BODY), wax) - roomCelsius;
    },
    spots: {
      wax: () =>
        now.grams < full * (design.probeBareBelow ?? 0)
          ? now.airAbove
          : heat.celsius(1 + (design.probeLayer ?? 0)),
      body: () => heat.celsius(BODY),
      hottest: () => {
        let most = Number.NEGATIVE_INFINITY;
        for (let i = 1; i <= layers; i += 1) most = Math.max(most, heat.celsius(i));
        return most;
      },
      coldest: () => {
        let least = Number.POSITIVE_INFINITY;
        for (let i = 1; i <= layers; i += 1) least = Math.min(least, heat.celsius(i));
        return least;
      },
      above: () => now.airAbove,
      level: () => now.grams / full,
      switchings: () => thermostat.switchings(),
    },
    balance: heat.balance,
    isLively: () => now.warmerThanRoom > 2,
  };
};
