// Where each tile of the wall is and how large it is, from one station to sixty. As long as every tile fits at
// the sizes that the distance demands, all are in one grid in the order of the lab. When they do not, it is never an
// alarm that becomes smaller: alarms come first at full size, calm stations are paged below them. Pure.

import type { EmsOf } from './text-fit.ts';
import {
  measureHighest,
  highestNameless,
  type TileMeasures,
  namesAt,
  withShownNames,
  newTileMeasures,
} from './tile-measures.ts';
import { alarmHeight, type Level, SIZES, type TileTexts } from './wall-tile.ts';

/** In minutes of arc at the distance set. */
export interface Area {
  readonly width: number;
  readonly height: number;
}

export interface Grid {
  readonly columns: number;
  readonly rows: number;
  /** Over the least size; below 1 the reader must come nearer. */
  readonly scale: number;
}

export interface WallPlan {
  readonly level: Level;
  /** Alarms at full size before the stations; null while all are in one grid. */
  readonly alarms: (Grid & { readonly keys: readonly string[]; readonly height: number }) | null;
  readonly stations: Grid & {
    /** On every page. */
    readonly pinned: readonly string[];
    readonly pages: readonly (readonly string[])[];
  };
  /** Alarms beyond those at full size, worst first, by key. */
  readonly furtherAlarms: readonly string[];
  /** Stations that have no place beside the alarms, by key. */
  readonly unplaced: readonly string[];
  /** Names as they fit, by key. */
  readonly names: ReadonlyMap<string, string>;
}

/** So many unacknowledged alarms are shown at full size. */
export const MOST_ALARMS = 12;
/** A single station may fill its screen, but not shout. */
const SCALES = [2.2, 2, 1.8, 1.6, 1.5, 1.4, 1.3, 1.2, 1.15, 1.1, 1.05, 1] as const;

/** No tile is lower: what needs no measuring is refused before anything is measured. */
const LEAST_HEIGHT: Readonly<Record<Level, number>> = { full: 90, middle: 70, compact: 50 };

/** The largest scale `above` another at which rows of equal height hold `count` of the tiles, whichever; else null. */
const gridOf = (
  tiles: readonly TileTexts[],
  count: number,
  level: Level,
  columns: number,
  area: Area,
  above: number,
  measured: TileMeasures,
): Grid | null => {
  const rows = Math.ceil(count / columns);
  const cell = { width: area.width / columns, height: area.height / rows };
  if (cell.width < SIZES[level].width || cell.height < LEAST_HEIGHT[level]) return null;
  const scale = SCALES.find((size) => {
    if (size <= above) return false;
    const width = cell.width / size;
    const height = cell.height / size;
    return (
      width >= SIZES[level].width &&
      highestNameless(tiles, level, width, measured) <= height &&
      measureHighest(tiles, level, width, measured) <= height
    );
  });
  return scale === undefined ? null : { columns, rows, scale };
};

/** Columns of which none stays empty in every row. */
const columnChoices = (count: number, most: number): readonly number[] =>
  Array.from({ length: Math.max(1, Math.min(count, most)) }, (_, index) => index + 1).filter(
    (columns) => Math.ceil(count / Math.ceil(count / columns)) === columns,
  );

const bestGrid = (
  tiles: readonly TileTexts[],
  level: Level,
  area: Area,
  measured: TileMeasures,
  count = tiles.length,
): Grid | null =>
  columnChoices(count, Math.floor(area.width / SIZES[level].width)).reduce<Grid | null>(
    (best, columns) => gridOf(tiles, count, level, columns, area, best?.scale ?? 0, measured) ?? best,
    null,
  );

interface AlarmGrid extends Grid {
  readonly shown: number;
  readonly height: number;
}

/** As many of the alarms as fit, worst first, in rows as high as their highest. */
const alarmGridOf = (
  alarms: readonly TileTexts[],
  columns: number,
  scale: number,
  area: Area,
  measured: TileMeasures,
): AlarmGrid => {
  const width = area.width / columns / scale;
  const fitting = withShownNames(alarms, namesAt(alarms, 'compact', width, measured));
  let height = 0;
  let shown = 0;
  while (shown < fitting.length) {
    const row = fitting.slice(shown, shown + columns);
    const high = Math.max(...row.map((tile) => alarmHeight(tile, width, measured.emsOf))) * scale;
    if (!(height + high <= area.height)) break;
    height += high;
    shown += row.length;
  }
  return { columns, rows: Math.ceil(shown / columns), scale, shown, height };
};

const bestAlarmGrid = (
  alarms: readonly TileTexts[],
  scale: number,
  area: Area,
  measured: TileMeasures,
): AlarmGrid | null => {
  const grids = columnChoices(alarms.length, MOST_ALARMS)
    .map((columns) => alarmGridOf(alarms, columns, scale, area, measured))
    .filter(({ shown }) => shown > 0);
  return grids.reduce<AlarmGrid | null>(
    (best, grid) =>
      best === null || grid.shown > best.shown || (grid.shown === best.shown && grid.height < best.height)
        ? grid
        : best,
    null,
  );
};

const NO_PLACE: WallPlan['stations'] = { columns: 1, rows: 0, scale: 1, pinned: [], pages: [[]] };

/** Compact tiles in as few pages as the area allows, as large as it allows. */
const pagesOf = (
  tiles: readonly TileTexts[],
  area: Area,
  measured: TileMeasures,
): WallPlan['stations'] | null => {
  const keys = tiles.map(({ key }) => key);
  const whole = bestGrid(tiles, 'compact', area, measured);
  if (whole !== null) return { ...whole, pinned: [], pages: [keys] };
  const most = Math.floor(area.width / SIZES.compact.width);
  const grids = Array.from({ length: most }, (_, index) => index + 1).map((columns) => {
    const high = measureHighest(tiles, 'compact', area.width / columns, measured);
    return { columns, rows: Math.floor(area.height / high), scale: 1 };
  });
  const [first = null] = grids
    .filter(({ rows }) => rows > 0)
    .sort((first, second) => second.columns * second.rows - first.columns * first.rows);
  if (first === null) return null;
  const room = first.columns * first.rows;
  const notable = tiles.filter(({ isNotable }) => isNotable).map(({ key }) => key);
  const pinned = notable.length <= room / 2 ? notable : [];
  const paged = pinned.length > 0 ? keys.filter((key) => !pinned.includes(key)) : keys;
  const count = Math.ceil(paged.length / (room - pinned.length));
  const perPage = Math.ceil(paged.length / count);
  const pages = Array.from({ length: count }, (_, index) =>
    paged.slice(index * perPage, (index + 1) * perPage),
  );
  // Pages as full as each other have room to spare, which the tiles take.
  const grid = bestGrid(tiles, 'compact', area, measured, pinned.length + perPage) ?? first;
  return { ...grid, pinned, pages };
};

/** Alarms must come worst first, all others in the order of the lab. */
interface Sorted {
  readonly tiles: readonly TileTexts[];
  readonly alarms: readonly TileTexts[];
  /** Those that may be shown at full size. */
  readonly worst: readonly TileTexts[];
  readonly calm: readonly TileTexts[];
}

interface Split {
  readonly grid: AlarmGrid;
  readonly stations: WallPlan['stations'] | null;
}

/** Alarms before stations: first as large as all have room, else at the least size. */
const split = ({ worst, calm }: Sorted, area: Area, measured: TileMeasures): Split | null => {
  const stationsBelow = (grid: AlarmGrid): WallPlan['stations'] | null => {
    const rest = { width: area.width, height: area.height - grid.height };
    return calm.length === 0 ? NO_PLACE : pagesOf(calm, rest, measured);
  };
  const least = bestAlarmGrid(worst, 1, area, measured);
  if (least === null) return null;
  const below = stationsBelow(least);
  for (const scale of SCALES) {
    const grid = bestAlarmGrid(worst, scale, area, measured);
    if (grid?.shown !== least.shown) continue;
    const stations = stationsBelow(grid);
    if (stations !== null && stations.pages.length === below?.pages.length) return { grid, stations };
  }
  return { grid: least, stations: below };
};

/** A screen on which not even the first tile fits is filled with smaller ones, and the reader must come nearer. */
const NEARER = [1, 0.8, 0.6, 0.45, 0.3, 0.2, 0.1, 0.05] as const;

const scaleSizes = (grid: Grid, nearer: number): number => grid.scale * nearer;

const inLabOrder = (tiles: readonly TileTexts[]): readonly string[] =>
  [...tiles].sort((first, second) => first.order - second.order).map(({ key }) => key);

const planAt = (sorted: Sorted, area: Area, nearer: number, measured: TileMeasures): WallPlan | null => {
  const { tiles, alarms, calm } = sorted;
  const room = { width: area.width / nearer, height: area.height / nearer };
  const none = { furtherAlarms: [], unplaced: [] };
  for (const level of ['full', 'middle'] as const) {
    const grid = bestGrid(tiles, level, room, measured);
    if (grid === null) continue;
    const names = namesAt(tiles, level, room.width / grid.columns / grid.scale, measured);
    const stations = { ...grid, scale: scaleSizes(grid, nearer), pinned: [], pages: [inLabOrder(tiles)] };
    return { level, alarms: null, stations, names, ...none };
  }
  const parts =
    alarms.length === 0
      ? { grid: null, stations: pagesOf(calm, room, measured) }
      : split(sorted, room, measured);
  if (parts === null || (parts.grid === null && parts.stations === null)) return null;
  const stations = parts.stations ?? NO_PLACE;
  const keys = alarms.map(({ key }) => key);
  const namesOf = (some: readonly TileTexts[], grid: Grid) =>
    some.length === 0 ? [] : namesAt(some, 'compact', room.width / grid.columns / grid.scale, measured);
  return {
    level: 'compact',
    alarms: parts.grid && {
      columns: parts.grid.columns,
      rows: parts.grid.rows,
      scale: scaleSizes(parts.grid, nearer),
      height: parts.grid.height * nearer,
      keys: keys.slice(0, parts.grid.shown),
    },
    stations: { ...stations, scale: scaleSizes(stations, nearer) },
    furtherAlarms: parts.grid === null ? [] : keys.slice(parts.grid.shown),
    unplaced: parts.stations === null ? calm.map(({ key }) => key) : [],
    names: new Map([...namesOf(calm, stations), ...(parts.grid === null ? [] : namesOf(alarms, parts.grid))]),
  };
};

/**
 * The plan of these tiles for any area; areas of the same width share what was measured.
 * Alarms must come worst first, all others in the order of the lab.
 */
export const wallPlanner = (tiles: readonly TileTexts[], emsOf: EmsOf): ((area: Area) => WallPlan) => {
  const measured = newTileMeasures(emsOf);
  const alarms = tiles.filter(({ isAlarm }) => isAlarm);
  const calm = tiles.filter(({ isAlarm }) => !isAlarm);
  const sorted = { tiles, alarms, worst: alarms.slice(0, MOST_ALARMS), calm };
  return (area) => {
    for (const nearer of NEARER) {
      const plan = planAt(sorted, area, nearer, measured);
      if (plan !== null) return plan;
    }
    return {
      level: 'compact',
      alarms: null,
      stations: NO_PLACE,
      furtherAlarms: [],
      unplaced: tiles.map(({ key }) => key),
      names: new Map(),
    };
  };
};
