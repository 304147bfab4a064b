// The laboratory room: air and fabric, radiators with a day and a night set point, people, sun, and a window
// that someone may leave open; regulated air where there is any; outdoors comes from the weather.

import { heatNetwork, massStore } from './heat-network.ts';
import type { StationModel } from './station-model.ts';

export interface CoolingDesign {
  readonly setCelsius: number;
  readonly bandKelvin: number;
  readonly watts: number;
}

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
  readonly cooling: CoolingDesign | null;
}

export const roomModel = (design: RoomDesign, startCelsius: number): StationModel => {
  const { airToFabric, airToOutdoors, fabricToOutdoors, cooling } = design;
  const heat = heatNetwork(
    [massStore(design.airJoulesPerKelvin), massStore(design.fabricJoulesPerKelvin)],
    [
      { a: 0, b: 1, wattsPerKelvin: airToFabric },
      { a: 0, b: 2, wattsPerKelvin: airToOutdoors },
      { a: 1, b: 2, wattsPerKelvin: fabricToOutdoors },
    ],
    [startCelsius],
    [startCelsius, startCelsius - 0.5],
  );
  let cools = false;

  return {
    advance: (input, seconds) => {
      const air = heat.celsius(0);
      const wanted = (input.on ? design.dayCelsius : design.nightCelsius) + input.shiftCelsius;
      const valve = Math.min(1, Math.max(0, (wanted - air) / design.valveSpan + 0.5));
      const radiator = input.powered ? valve * design.radiatorWatts * input.elementShare : 0;
      if (cooling !== null) {
        const half = cooling.bandKelvin / 2;
        const below = Math.max(half, input.coarseKelvin);
        cools = cools ? air > cooling.setCelsius - below : air >= cooling.setCelsius + half;
      }
      const cooled = cooling !== null && cools && input.powered ? cooling.watts : 0;
      const sun = design.sunWatts * input.sun;
      const people = input.busy ? design.peopleWatts : 0;
      heat.wattsPerKelvin[1] = airToOutdoors + (input.open ? design.openWindow * input.openShare : 0);
      heat.watts[0] = radiator + people + sun * 0.3 - cooled;
      heat.watts[1] = sun * 0.7;
      heat.surroundings[0] = input.outdoorsCelsius;
      heat.step(seconds);
    },
    spots: { air: () => heat.celsius(0), fabric: () => heat.celsius(1) },
    balance: heat.balance,
    isLively: () => false,
  };
};
