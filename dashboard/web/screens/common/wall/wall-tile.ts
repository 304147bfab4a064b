// What is in one tile of the wall, and how high it becomes at a width, at the least sizes that people can read
// from where they stand. All lengths are in minutes of arc: type size by the height of a capital. Pure.

import { EASY_ARC_MINUTES, HEADLINE_ARC_MINUTES } from './viewing-distance.ts';
import { type EmsOf, linesOf, linesOfName } from './text-fit.ts';

/** What must be read first: the reading and the word of an alarm. */
const FIRST_ARC = 25;
/** What to do, and whether the wall can sound. */
export const ADVICE_ARC = 15;
/** Nothing on the wall is smaller. */
export const LEAST_ARC = 12;

export const LEVELS = ['full', 'middle', 'compact'] as const;
export type Level = (typeof LEVELS)[number];

/** Width of a letter in sizes of the type, where nothing can be measured: "Over ceiling" takes 0.39, capitals more. */
export const LETTER_EMS = 0.43;

export interface TileTexts {
  /** Unique on the wall. */
  readonly key: string;
  /** Place in the order of the lab. */
  readonly order: number;
  /** An alarm that is so now and that nobody has acknowledged: it is never paged away. */
  readonly isAlarm: boolean;
  /** Acknowledged, past, silent or never measured: worth a look, and shown on every page while there is room. */
  readonly isNotable: boolean;
  readonly name: string;
  /** The reading without its unit; empty for what has none. */
  readonly value: string;
  readonly unit: string;
  readonly word: string;
  /** What to do; of alarms only. */
  readonly advice: string;
  /** One sentence more, e.g. what was; empty for most. */
  readonly note: string;
  /** The same in the fewest words, for all levels but the full one. */
  readonly briefNote: string;
}

interface LevelSizes {
  readonly name: number;
  readonly digits: number;
  readonly state: number;
  readonly facts: number;
  readonly factLines: number;
  /** Least width of a tile. */
  readonly width: number;
  /** Height of the lane over the size of its digits. */
  readonly lane: number;
}

export const SIZES: Readonly<Record<Level, LevelSizes>> = {
  full: {
    name: 18,
    digits: HEADLINE_ARC_MINUTES,
    state: 18,
    facts: 14,
    factLines: 2,
    width: 136,
    lane: 1.35,
  },
  middle: { name: 14, digits: FIRST_ARC, state: 14, facts: LEAST_ARC, factLines: 1, width: 136, lane: 1.2 },
  compact: {
    name: LEAST_ARC,
    digits: FIRST_ARC,
    state: LEAST_ARC,
    facts: LEAST_ARC,
    factLines: 0,
    width: 88,
    lane: 1.04,
  },
};

const PAD_ARC = 3;
const NAME_LINE = 1.06;
const WORD_LINE = 1.08;
const ADVICE_LINE = 1.1;
/** Below the last line of an alarm, clear of its frame. */
const ALARM_PAD_ARC = 2;
const TEXT_LINE = 1.12;
/** Below this a lane shows nothing. */
const LEAST_LANE = 1.04;
/** Mark and gap before a word, in sizes of its type. */
const MARK_EMS = 1.2;
const ALARM_MARK_ARC = EASY_ARC_MINUTES;
/** Lines that a name may take. */
const NAME_LINES = 2;

/** The unit beside a reading is a small letter of the least size or of this share, whichever is larger. */
const UNIT_SHARE = 0.45;

/** The arrow of an alarm that rises or falls, over the size of the digits. */
const DIRECTION_SHARE = 0.5;
/** Below this height the lane of an alarm shows nothing and is left out. */
export const ALARM_LANE_ARC = 16;

const valueWidth = ({ value, unit }: TileTexts, digits: number, emsOf: EmsOf): number =>
  value === ''
    ? 0
    : emsOf(value.replaceAll(/\d/g, '0')) * digits +
      emsOf(unit) * Math.max(LEAST_ARC, digits * UNIT_SHARE) +
      digits * 0.15;

/** Width that an alarm leaves for its name. */
const alarmNameWidth = (tile: TileTexts, width: number, emsOf: EmsOf): number =>
  width -
  2 * PAD_ARC -
  ALARM_MARK_ARC -
  valueWidth(tile, FIRST_ARC, emsOf) -
  (tile.value === '' ? 0 : DIRECTION_SHARE * FIRST_ARC);

const noteHeight = (note: string, inner: number, emsOf: EmsOf): number =>
  linesOf(note, inner / LEAST_ARC, emsOf) * LEAST_ARC * TEXT_LINE;

/** Whether a name fits above or beside the reading of its tile; one that does not is shortened. */
export const nameFits = (
  name: string,
  tile: TileTexts,
  level: Level,
  width: number,
  emsOf: EmsOf,
): boolean => {
  const room = tile.isAlarm ? alarmNameWidth(tile, width, emsOf) : width - 2 * PAD_ARC;
  // What is wider than its lines together fits in no way.
  if (emsOf(name) * LEAST_ARC > NAME_LINES * room + emsOf(' ') * LEAST_ARC) return false;
  return linesOfName(name, room / LEAST_ARC, emsOf) <= NAME_LINES || fitsOnOne(name, room, level, emsOf);
};

const fitsOnOne = (name: string, room: number, level: Level, emsOf: EmsOf): boolean =>
  linesOf(name, room / SIZES[level].name, emsOf) <= 1;

/** Type size of a name: that of its level on one line, else the least on as many as it takes. */
export const nameSize = (tile: TileTexts, level: Level, width: number, emsOf: EmsOf): number =>
  !tile.isAlarm && fitsOnOne(tile.name, width - 2 * PAD_ARC, level, emsOf) ? SIZES[level].name : LEAST_ARC;

/** Less would leave of a name no more than a few letters a line. */
const LEAST_NAME_ARC = 48;

/** Height of an alarm at the sizes that it never falls below; infinite where it does not fit at all. */
export const alarmHeight = (tile: TileTexts, width: number, emsOf: EmsOf): number => {
  const inner = width - 2 * PAD_ARC;
  if (alarmNameWidth(tile, width, emsOf) < LEAST_NAME_ARC) return Number.POSITIVE_INFINITY;
  const nameLines = Math.min(
    NAME_LINES,
    linesOfName(tile.name, alarmNameWidth(tile, width, emsOf) / LEAST_ARC, emsOf),
  );
  return (
    ALARM_PAD_ARC +
    Math.max(FIRST_ARC, nameLines * LEAST_ARC * NAME_LINE) +
    linesOf(tile.word, inner / FIRST_ARC, emsOf) * FIRST_ARC * WORD_LINE +
    linesOf(tile.advice, inner / ADVICE_ARC, emsOf) * ADVICE_ARC * ADVICE_LINE +
    noteHeight(tile.note, inner, emsOf)
  );
};

/** Height of the name of a tile that is no alarm. */
export const nameHeight = (tile: TileTexts, level: Level, width: number, emsOf: EmsOf): number => {
  const size = nameSize(tile, level, width, emsOf);
  const lines = Math.min(NAME_LINES, linesOfName(tile.name, (width - 2 * PAD_ARC) / size, emsOf));
  return lines * size * NAME_LINE;
};

/** Height of what is below the name of a tile that is no alarm, at the least sizes of the level. */
const bodyHeight = (tile: TileTexts, level: Level, width: number, emsOf: EmsOf): number => {
  const sizes = SIZES[level];
  const inner = width - 2 * PAD_ARC;
  if (valueWidth(tile, sizes.digits, emsOf) > inner) return Number.POSITIVE_INFINITY;
  const note = level === 'full' ? tile.note : tile.briefNote;
  const stateLines = linesOf(tile.word, inner / sizes.state - MARK_EMS, emsOf);
  return (
    PAD_ARC +
    stateLines * sizes.state * TEXT_LINE +
    (note === ''
      ? sizes.digits * sizes.lane + sizes.factLines * sizes.facts * TEXT_LINE
      : sizes.digits * LEAST_LANE + noteHeight(note, inner, emsOf))
  );
};

/** Height that every tile of a grid needs, with the lanes of all at one height below the names. */
export const gridRowHeight = (
  tiles: readonly TileTexts[],
  level: Level,
  width: number,
  emsOf: EmsOf,
): number => {
  const alarms = tiles.filter(({ isAlarm }) => isAlarm);
  const calm = tiles.filter(({ isAlarm }) => !isAlarm);
  const highest = (heights: readonly number[]): number => Math.max(0, ...heights);
  return Math.max(
    highest(calm.map((tile) => nameHeight(tile, level, width, emsOf))) +
      highest(calm.map((tile) => bodyHeight(tile, level, width, emsOf))),
    highest(alarms.map((tile) => alarmHeight(tile, width, emsOf))),
  );
};

const ALARM_SCALES = [1.6, 1.5, 1.4, 1.3, 1.2, 1.1, 1] as const;

/** How much larger than the least size all alarms of a grid can be drawn in their cells; at least 1. */
export const alarmScale = (
  alarms: readonly TileTexts[],
  level: Level,
  cell: { readonly width: number; readonly height: number },
  emsOf: EmsOf,
): number =>
  ALARM_SCALES.find((scale) =>
    alarms.every(
      (tile) =>
        nameFits(tile.name, tile, level, cell.width / scale, emsOf) &&
        alarmHeight(tile, cell.width / scale, emsOf) * scale <= cell.height,
    ),
  ) ?? 1;
