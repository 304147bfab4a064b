// A pot of wax: metal body with the heater, wax in one or more layers each with its melting plateau, losses through
// wall and open surface, a thermostat whose feeler sits between body and wax, a lid, a level that dipping and ladling
// lower and topping up restores. Where the level falls below the feeler or the probe, these are in the hot air.

import { BODY, type PotDesign, potHeat } from './pot-heat.ts';
import type { HeatInput, StationModel } from './station-model.ts';
import { control } from './thermostat.ts';

export type { PotDesign } from './pot-heat.ts';

/** Below this share of the full mark nobody dips any more. */
const LEAST_LEVEL = 0.3;
/** Air above hot wax lies so far up between the room and the wax. */
const AIR_ABOVE_SHARE = 0.35;

/** @param source numbers from 0 to 1 for a contact that bounces. */
export const potModel = (
  design: PotDesign,
  startCelsius: number,
  source: () => number = () => 0.5,
): StationModel => {
  const full = design.waxGrams;
  const { heat, top, grams, level, waxCelsius, hottest, coldest, conduct } = potHeat(design, startCelsius);
  const thermostat = control(design.thermostat, startCelsius, source);
  const now = { airAbove: startCelsius, warmerThanRoom: 0 };

  /** What people do to the level in this step; returns whether they dip. */
  const work = (input: HeatInput, seconds: number): boolean => {
    const { roomCelsius } = input;
    const added = input.addedCelsius ?? roomCelsius;
    if (input.toppedUp && grams() < full) level(full, added);
    if (input.addedShare > 0) level(Math.min(full, grams() + full * input.addedShare), added);
    if (input.ladledShare > 0) level(Math.max(full * 0.05, grams() - full * input.ladledShare), roomCelsius);
    if (grams() > full * input.levelAtMost) level(full * input.levelAtMost, roomCelsius);
    const dips = input.busy && waxCelsius() > design.melting.liquidus && grams() > full * LEAST_LEVEL;
    if (dips) level(grams() - (design.dippingGramsPerHour / 3600) * seconds, roomCelsius);
    return dips;
  };

  const feels = (): number => {
    const { feelsBody, feelerBareBelow = 0 } = design;
    if (grams() < full * feelerBareBelow)
      return 0.5 * feelsBody * heat.celsius(BODY) + (1 - 0.5 * feelsBody) * now.airAbove;
    return feelsBody * heat.celsius(BODY) + (1 - feelsBody) * waxCelsius();
  };

  return {
    advance: (input, seconds) => {
      const { roomCelsius } = input;
      const dips = work(input, seconds);
      const asks = thermostat.step(feels(), seconds, input.shiftCelsius, input.chatters, input.stuckOn);
      const heats = input.powered && input.on ? asks * input.elementShare : 0;
      conduct(input.open);
      heat.watts[BODY] = heats * design.heaterWatts;
      heat.watts[top] = dips ? -design.dippingWatts : 0;
      heat.surroundings[0] = roomCelsius;
      heat.step(seconds);
      now.airAbove = roomCelsius + AIR_ABOVE_SHARE * (heat.celsius(top) - roomCelsius);
      now.warmerThanRoom = Math.max(heat.celsius(BODY), waxCelsius()) - roomCelsius;
    },
    spots: {
      wax: () =>
        grams() < full * (design.probeBareBelow ?? 0)
          ? now.airAbove
          : heat.celsius(1 + (design.probeLayer ?? 0)),
      body: () => heat.celsius(BODY),
      hottest,
      coldest,
      above: () => now.airAbove,
      level: () => grams() / full,
      switchings: () => thermostat.switchings(),
    },
    balance: heat.balance,
    isLively: () => now.warmerThanRoom > 2,
  };
};
