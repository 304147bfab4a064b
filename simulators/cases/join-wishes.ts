// One lab for two faults: it lasts as long as the longer needs, has what either needs, and keeps to one season.

import type { WorldWishes } from '../stations/wishes.ts';

type Range = readonly [number, number];

const widest = (a: Range | undefined, b: Range | undefined): Range | undefined =>
  a && b ? [Math.max(a[0], b[0]), Math.max(a[1], b[1])] : (a ?? b);

const RANGES = ['pots', 'annealers', 'baths', 'lamps', 'shelves', 'cabinets'] as const;

export const joinWishes = (first: WorldWishes, second: WorldWishes): WorldWishes => {
  const ranges = Object.fromEntries(
    RANGES.flatMap((name) => {
      const range = widest(first[name], second[name]);
      return range ? [[name, range]] : [];
    }),
  );
  const season = first.seasons?.find((season) => second.seasons?.includes(season));
  return {
    ...second,
    ...first,
    ...ranges,
    ...(season ? { seasons: [season] as const } : {}),
    pot: { ...second.pot, ...first.pot },
    days: [Math.max(first.days[0], second.days[0]), Math.max(first.days[1], second.days[1])],
  };
};
