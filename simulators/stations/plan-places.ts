// Rooms, shelves and cabinets with their probes.

import { type AiringHabit, doorDays, roomDays } from '../days/room-days.ts';
import type { Draw } from '../draw/draw.ts';
import { roomModel } from '../physics/room.ts';
import { storageModel } from '../physics/storage.ts';
import type { WorldProbe, StoragePlan } from '../world/plan.ts';
import { drawCabinet, drawRoom, drawShelf, type RoomWishes } from './draw-places.ts';
import { drawProbe } from './draw-probe.ts';
import type { PotSurroundings } from './plan-pot.ts';

export const airProbe = (
  id: string,
  index: number,
  where: string,
  spot: string,
  around: PotSurroundings,
  draw: Draw,
): WorldProbe =>
  drawProbe(draw.branch(`probe-${index}`), {
    id: `${id}-p${index}`,
    where,
    spot,
    gateway: around.gateway,
    medium: 'air',
    days: around.days,
  });

export const planRoom = (
  id: string,
  around: PotSurroundings,
  draw: Draw,
  wishes: RoomWishes & { readonly airing: AiringHabit },
): StoragePlan => {
  const design = drawRoom(draw.branch('room'), wishes);
  return {
    kind: 'room',
    id,
    called: 'storage room',
    room: null,
    usual: design.cooling
      ? { low: draw.pick([17, 18]), high: draw.pick([25, 26]), swing: draw.pick([3.5, 4, 5]) }
      : { low: draw.pick([14, 15, 16]), high: draw.pick([26, 27, 28, 30]), swing: draw.pick([7, 8, 9]) },
    isRegulated: design.cooling !== null,
    hasPatterns: true,
    spells: [...roomDays(around.calendar, wishes.airing, draw.branch('days'))],
    probes: [airProbe(id, 1, 'wall of the room', 'air', around, draw)],
    build: (start) => roomModel(design, start),
  };
};

export const planShelf = (id: string, around: PotSurroundings, draw: Draw, isSunny: boolean): StoragePlan => {
  const drawn = drawShelf(draw.branch('shelf'));
  // Other shelves stand away from the windows.
  const design = { ...drawn, sunWatts: isSunny ? drawn.sunWatts * 9 : drawn.sunWatts * 0.3 };
  return {
    kind: 'shelf',
    id,
    called: 'storage shelf',
    room: around.room,
    usual: { low: draw.pick([15, 16]), high: draw.pick([25, 26, 27]), swing: draw.pick([6, 7, 9]) },
    isRegulated: false,
    hasPatterns: true,
    // By a sunny window people draw the blind; a fault leaves it up.
    spells: isSunny
      ? [{ from: Number.NEGATIVE_INFINITY, to: Number.POSITIVE_INFINITY, set: { sunlit: 0.06 } }]
      : [],
    probes: [airProbe(id, 1, 'on the shelf beside the patterns', 'air', around, draw)],
    build: (start) => storageModel(design, start),
  };
};

export interface CabinetWishes {
  readonly isRegulated: boolean;
  readonly isEmpty: boolean;
}

export const planCabinet = (
  id: string,
  around: PotSurroundings,
  draw: Draw,
  { isRegulated, isEmpty }: CabinetWishes,
): StoragePlan => {
  const drawn = drawCabinet(draw.branch('cabinet'), isRegulated);
  const design = isEmpty ? { ...drawn, contentsJoulesPerKelvin: drawn.contentsJoulesPerKelvin * 0.2 } : drawn;
  const levels = design.levels ?? 1;
  return {
    kind: 'cabinet',
    id,
    called: 'storage cabinet',
    room: around.room,
    usual: isRegulated
      ? { low: 17, high: 24, swing: draw.pick([3, 4, 5]) }
      : { low: draw.pick([15, 16]), high: draw.pick([24, 25, 26]), swing: draw.pick([5, 6, 7]) },
    isRegulated,
    hasPatterns: !isEmpty,
    spells: [...doorDays(around.calendar, isEmpty ? 0 : draw.whole(2, 12), draw.branch('doors'))],
    probes: Array.from({ length: levels }, (_, level) =>
      airProbe(id, level + 1, `inside, level ${level + 1}`, `air${level + 1}`, around, draw),
    ),
    build: (start) => storageModel(design, start),
  };
};
