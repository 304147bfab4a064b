// Seasons, rooms, shelves and cabinets: light and heavy buildings, good and bad windows, with and without cooling.

import { type Draw, roundTo } from '../draw/draw.ts';
import type { Climate } from '../physics/outdoors.ts';
import type { RoomDesign } from '../physics/room.ts';
import type { StorageDesign } from '../physics/storage.ts';

export type Season = 'winter' | 'transition' | 'summer';

export const drawClimate = (draw: Draw, season: Season): Climate => {
  const mean: Readonly<Record<Season, readonly [number, number]>> = {
    winter: [-7, 5],
    transition: [7, 13],
    summer: [17, 24],
  };
  const light = { winter: [8, 16.3], transition: [6.5, 18.5], summer: [5, 20.5] } as const;
  const [sunrise, sunset] = light[season];
  return {
    meanCelsius: draw.uniform(...mean[season]),
    dailyHalfRange: season === 'winter' ? draw.uniform(1.5, 4) : draw.uniform(3, 6.5),
    slowKelvin: draw.uniform(0.5, 2),
    sunrise,
    sunset,
    cloud: draw.uniform(0.2, 0.8),
  };
};

export interface RoomWishes {
  readonly season: Season;
  readonly isCooled?: boolean;
  /** Kelvin that the night is let cooler. */
  readonly setbackKelvin?: number;
}

export const drawRoom = (draw: Draw, { season, isCooled, setbackKelvin }: RoomWishes): RoomDesign => {
  const size = draw.logUniform(0.4, 2.2);
  const dayCelsius = roundTo(draw.uniform(19.5, 22.5), 0.5);
  const outwards = 95 * size * draw.uniform(0.6, 1.4);
  const leak = draw.uniform(0.35, 0.6);
  const cooled = isCooled ?? (season === 'summer' && draw.chance(0.5));
  return {
    airJoulesPerKelvin: 1_000_000 * size * draw.uniform(0.6, 1.5),
    fabricJoulesPerKelvin: 9_000_000 * size * draw.uniform(0.5, 2.5),
    airToFabric: 420 * size * draw.uniform(0.7, 1.4),
    airToOutdoors: outwards * leak,
    fabricToOutdoors: outwards * (1 - leak),
    openWindow: 300 * draw.uniform(0.6, 1.6) * size ** 0.6,
    // In summer the boiler is off but for the odd cold morning.
    radiatorWatts: outwards * (season === 'summer' ? 4 : 42),
    dayCelsius,
    nightCelsius: dayCelsius - (setbackKelvin ?? draw.uniform(0, 2)),
    valveSpan: draw.uniform(0.8, 2),
    peopleWatts: 300 * size * draw.uniform(0.5, 2),
    sunWatts: 900 * size * draw.uniform(0.2, 1.2),
    cooling: cooled
      ? {
          setCelsius: dayCelsius + draw.uniform(1, 2.5),
          bandKelvin: draw.uniform(0.6, 1.6),
          watts: 4500 * size,
        }
      : null,
  };
};

export const drawShelf = (draw: Draw): StorageDesign => ({
  airJoulesPerKelvin: draw.uniform(400, 900),
  contentsJoulesPerKelvin: draw.uniform(800, 3000),
  airToContents: draw.uniform(1.2, 3),
  airToRoom: draw.uniform(2, 4),
  doorLoss: 0,
  sunWatts: draw.uniform(1, 4),
});

export const drawCabinet = (draw: Draw, regulated: boolean): StorageDesign => {
  const levels = draw.whole(1, 3);
  const size = draw.uniform(0.6, 1.8);
  const airToRoom = (size * draw.uniform(0.25, 0.7)) / (regulated ? 1.6 : 1);
  return {
    airJoulesPerKelvin: 900 * size,
    contentsJoulesPerKelvin: 9000 * size * draw.uniform(0.5, 1.6),
    airToContents: 3 * size,
    airToRoom,
    doorLoss: draw.uniform(3, 7) * size,
    sunWatts: 0,
    levels,
    betweenLevels: draw.uniform(0.6, 2.5) * size,
    regulated: regulated
      ? {
          setCelsius: roundTo(draw.uniform(18.5, 21), 0.5),
          bandKelvin: draw.uniform(0.5, 1.2),
          heaterWatts: airToRoom * levels * draw.uniform(12, 32),
          coolerWatts: airToRoom * levels * draw.uniform(14, 36),
        }
      : null,
  };
};
