// The room in which the demonstration's stations stand; invented, of the size of a small laboratory.

import type { RoomDesign } from '../physics/room.ts';

export const DEMO_ROOM: RoomDesign = {
  airJoulesPerKelvin: 1_100_000,
  fabricJoulesPerKelvin: 9_000_000,
  airToFabric: 420,
  airToOutdoors: 45,
  fabricToOutdoors: 55,
  openWindow: 300,
  radiatorWatts: 3800,
  dayCelsius: 21,
  nightCelsius: 19.4,
  valveSpan: 1.6,
  peopleWatts: 700,
  sunWatts: 1300,
  cooling: null,
};
