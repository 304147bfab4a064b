// A softening cabinet: heated wall, air above and below, a load that warms through; a door that lets the heat out.
// Its upper and lower air differ, as they do in a box without a fan, and differ more while the door stands open.

import { heatNetwork, massStore } from './heat-network.ts';
import type { StationModel } from './station-model.ts';
import { type ControlDesign, control } from './thermostat.ts';

export interface AnnealerDesign {
  readonly heaterWatts: number;
  readonly thermostat: ControlDesign;
  readonly wallJoulesPerKelvin: number;
  readonly airJoulesPerKelvin: number;
  readonly loadJoulesPerKelvin: number;
  readonly wallToUpper: number;
  readonly wallToLower: number;
  /** Between upper and lower air without a fan; `fanMixing` comes on top while it runs. */
  readonly betweenZones: number;
  readonly fanMixing: number;
  readonly airToLoad: number;
  readonly wallLoss: number;
  readonly upperLoss: number;
  readonly lowerLoss: number;
  readonly upperDoorLoss: number;
  readonly lowerDoorLoss: number;
}

const WALL = 0;
const UPPER = 1;
const LOWER = 2;
const LOAD = 3;
const ROOM = 4;
const ZONES = 2;
const LOWER_LOSS = 6;
const UPPER_LOSS = 7;

export const annealerModel = (
  design: AnnealerDesign,
  startCelsius: number,
  source: () => number = () => 0.5,
): StationModel => {
  const load = massStore(design.loadJoulesPerKelvin);
  const air = massStore(design.airJoulesPerKelvin);
  const heat = heatNetwork(
    [massStore(design.wallJoulesPerKelvin), air, air, load],
    [
      { a: WALL, b: UPPER, wattsPerKelvin: design.wallToUpper },
      { a: WALL, b: LOWER, wattsPerKelvin: design.wallToLower },
      { a: UPPER, b: LOWER, wattsPerKelvin: design.betweenZones },
      { a: UPPER, b: LOAD, wattsPerKelvin: design.airToLoad },
      { a: LOWER, b: LOAD, wattsPerKelvin: design.airToLoad },
      { a: WALL, b: ROOM, wattsPerKelvin: design.wallLoss },
      { a: LOWER, b: ROOM, wattsPerKelvin: design.lowerLoss },
      { a: UPPER, b: ROOM, wattsPerKelvin: design.upperLoss },
    ],
    [startCelsius],
    [startCelsius, startCelsius, startCelsius, startCelsius],
  );
  const thermostat = control(design.thermostat, startCelsius, source);
  const now = { warmerThanRoom: 0 };

  return {
    advance: (input, seconds) => {
      const { roomCelsius, shiftCelsius, chatters, stuckOn } = input;
      if (input.freshLoad) heat.replace(LOAD, load, load.joulesAt(roomCelsius));
      const share = thermostat.step(heat.celsius(UPPER), seconds, shiftCelsius, chatters, stuckOn);
      const heats = input.powered && input.on ? share * input.elementShare : 0;
      const door = input.open ? input.openShare : 0;
      const mixes = input.fanRuns && input.powered && input.on;
      heat.wattsPerKelvin[ZONES] = design.betweenZones + (mixes ? design.fanMixing : 0);
      heat.wattsPerKelvin[LOWER_LOSS] = design.lowerLoss + door * design.lowerDoorLoss;
      heat.wattsPerKelvin[UPPER_LOSS] = design.upperLoss + door * design.upperDoorLoss;
      heat.watts[WALL] = heats * design.heaterWatts;
      heat.surroundings[0] = roomCelsius;
      heat.step(seconds);
      now.warmerThanRoom = heat.celsius(WALL) - roomCelsius;
    },
    spots: {
      upper: () => heat.celsius(UPPER),
      lower: () => heat.celsius(LOWER),
      wall: () => heat.celsius(WALL),
      load: () => heat.celsius(LOAD),
      switchings: () => thermostat.switchings(),
    },
    balance: heat.balance,
    isLively: () => now.warmerThanRoom > 1,
  };
};
