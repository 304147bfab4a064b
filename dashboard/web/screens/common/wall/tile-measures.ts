// What is measured of the tiles of a wall at each width is kept: a plan tries the same widths again and again, and plans
// for areas of other heights do so too. Pure but for what it keeps.

import { distinctNames, type EmsOf } from './text-fit.ts';
import { gridRowHeight, type Level, nameFits, type TileTexts } from './wall-tile.ts';

export interface TileMeasures {
  readonly emsOf: EmsOf;
  /** By the tiles, then by level and width. */
  readonly names: WeakMap<readonly TileTexts[], Map<string, ReadonlyMap<string, string>>>;
  readonly heights: WeakMap<readonly TileTexts[], Map<string, number>>;
}

export const newTileMeasures = (emsOf: EmsOf): TileMeasures => ({
  emsOf,
  names: new WeakMap(),
  heights: new WeakMap(),
});

const remember = <T>(
  kept: WeakMap<readonly TileTexts[], Map<string, T>>,
  tiles: readonly TileTexts[],
  key: string,
  measure: () => T,
): T => {
  const ofTiles = kept.get(tiles) ?? new Map<string, T>();
  kept.set(tiles, ofTiles);
  const before = ofTiles.get(key);
  if (before !== undefined) return before;
  const value = measure();
  ofTiles.set(key, value);
  return value;
};

const keyOf = (level: Level, width: number): string => `${level} ${width}`;

/** Names as they fit a tile of this width; a name that is cut keeps what differs from the others. */
export const namesAt = (
  tiles: readonly TileTexts[],
  level: Level,
  width: number,
  { emsOf, names }: TileMeasures,
): ReadonlyMap<string, string> =>
  remember(names, tiles, keyOf(level, width), () => {
    const shown = distinctNames(
      tiles.map(({ name }) => name),
      (name, index) => {
        const tile = tiles[index];
        return tile !== undefined && nameFits(name, tile, level, width, emsOf);
      },
    );
    return new Map(tiles.map(({ key }, index) => [key, shown[index] ?? '']));
  });

export const withShownNames = (
  tiles: readonly TileTexts[],
  names: ReadonlyMap<string, string>,
): readonly TileTexts[] => tiles.map((tile) => ({ ...tile, name: names.get(tile.key) ?? tile.name }));

/** Height that the highest of the tiles needs at this width. */
export const measureHighest = (
  tiles: readonly TileTexts[],
  level: Level,
  width: number,
  measured: TileMeasures,
): number =>
  remember(measured.heights, tiles, keyOf(level, width), () => {
    const fitting = withShownNames(tiles, namesAt(tiles, level, width, measured));
    return gridRowHeight(fitting, level, width, measured.emsOf);
  });

/** Of the tiles without their names, which take by far the longest to fit: never higher than with them. */
export const highestNameless = (
  tiles: readonly TileTexts[],
  level: Level,
  width: number,
  { emsOf, heights }: TileMeasures,
): number =>
  remember(heights, tiles, `nameless ${keyOf(level, width)}`, () =>
    gridRowHeight(
      tiles.map((tile) => ({ ...tile, name: '' })),
      level,
      width,
      emsOf,
    ),
  );
