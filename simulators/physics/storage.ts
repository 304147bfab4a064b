// Where patterns wait: a closed cabinet that follows the room slowly, level by level, with or without air of its own
// that is held at a temperature, and an open shelf that follows the room at once and gets the afternoon sun.

import { type HeatPath, heatNetwork, massStore } from './heat-network.ts';
import type { HeatInput, StationModel } from './station-model.ts';

/** Air of its own: warmed below the band, cooled above it. */
export interface RegulatedAir {
  readonly setCelsius: number;
  readonly bandKelvin: number;
  readonly heaterWatts: number;
  readonly coolerWatts: number;
}

export interface StorageDesign {
  readonly airJoulesPerKelvin: number;
  readonly contentsJoulesPerKelvin: number;
  readonly airToContents: number;
  readonly airToRoom: number;
  /** Added while its door is open. */
  readonly doorLoss: number;
  readonly sunWatts: number;
  /** From the lowest up, each with air and contents as above; 1 where left out. */
  readonly levels?: number;
  readonly betweenLevels?: number;
  readonly regulated?: RegulatedAir | null;
}

export const storageModel = (design: StorageDesign, startCelsius: number): StationModel => {
  const levels = design.levels ?? 1;
  const regulated = design.regulated ?? null;
  const room = 2 * levels;
  const rows = Array.from({ length: levels }, (_, level) => level);
  const paths: HeatPath[] = rows.map((level) => ({ a: level, b: room, wattsPerKelvin: design.airToRoom }));
  for (const level of rows) paths.push({ a: level, b: levels + level, wattsPerKelvin: design.airToContents });
  for (const level of rows.slice(1))
    paths.push({ a: level - 1, b: level, wattsPerKelvin: design.betweenLevels ?? 0 });
  const stores = [
    ...rows.map(() => massStore(design.airJoulesPerKelvin)),
    ...rows.map(() => massStore(design.contentsJoulesPerKelvin)),
  ];
  const heat = heatNetwork(
    stores,
    paths,
    [startCelsius],
    stores.map(() => startCelsius),
  );
  let heats = false;
  let cools = false;

  const regulate = ({ powered, coarseKelvin, shiftCelsius }: HeatInput): number => {
    if (regulated === null || !powered) return 0;
    let mean = 0;
    for (const level of rows) mean += heat.celsius(level) / levels;
    const above = mean - regulated.setCelsius - shiftCelsius;
    if (coarseKelvin > 0) {
      // It overshoots to one side and then to the other.
      heats = above <= -coarseKelvin || (heats && above < coarseKelvin);
      cools = !heats;
    } else {
      const half = regulated.bandKelvin / 2;
      heats = heats ? above < half * 0.2 : above <= -half;
      cools = cools ? above > -half * 0.2 : above >= half;
    }
    return heats ? regulated.heaterWatts : cools ? -regulated.coolerWatts : 0;
  };

  const spots: Record<string, () => number> = {
    air: () => heat.celsius(0),
    contents: () => heat.celsius(levels),
  };
  for (const level of rows) spots[`air${level + 1}`] = () => heat.celsius(level);

  return {
    advance: (input, seconds) => {
      const sun = design.sunWatts * input.sun;
      const watts = regulate(input) / levels;
      for (const level of rows) {
        heat.wattsPerKelvin[level] = design.airToRoom + (input.open ? design.doorLoss * input.openShare : 0);
        heat.watts[level] = sun / 2 + watts;
        heat.watts[levels + level] = sun / 2;
      }
      heat.surroundings[0] = input.roomCelsius;
      heat.step(seconds);
    },
    spots,
    balance: heat.balance,
    isLively: () => false,
  };
};
