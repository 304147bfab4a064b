// How many columns, how much of each station is shown, and how large: chosen so that everything is on the screen
// at once, from one station to forty, and as large as the distance asks. When the screen is too small for that,
// it gives the distance from which it can still be read.

import { EASY_ARC_MINUTES, HEADLINE_ARC_MINUTES, LEAST_ARC_MINUTES } from './viewing-distance.ts';

const LEVELS = ['full', 'middle', 'compact'] as const;
export type Level = (typeof LEVELS)[number];

/** Sizes in minutes of arc: what the level asks of a reader's eye. */
interface LevelNeeds {
  readonly digits: number;
  readonly name: number;
  readonly state: number;
  readonly facts: number;
  readonly factLines: number;
  /** Height of the lane over the size of its digits. */
  readonly lane: number;
  /** Width of a station. */
  readonly width: number;
}

export const NEEDS: Readonly<Record<Level, LevelNeeds>> = {
  full: {
    digits: HEADLINE_ARC_MINUTES,
    name: 18,
    state: 18,
    facts: LEAST_ARC_MINUTES,
    factLines: 2,
    lane: 1.4,
    width: 136,
  },
  middle: {
    digits: EASY_ARC_MINUTES,
    name: LEAST_ARC_MINUTES,
    state: LEAST_ARC_MINUTES,
    facts: LEAST_ARC_MINUTES,
    factLines: 1,
    lane: 1.25,
    width: 140,
  },
  compact: {
    digits: EASY_ARC_MINUTES,
    name: LEAST_ARC_MINUTES,
    state: LEAST_ARC_MINUTES,
    facts: LEAST_ARC_MINUTES,
    factLines: 0,
    lane: 1.3,
    width: 88,
  },
};

const NAME_LINE = 1.25;
const STATE_LINE = 1.25;
const FACT_LINE = 1.2;
const PADDING_ARC = 8;
/** A single station may fill its screen, but not shout. */
const LARGEST = 2.2;

export interface WallLayout {
  readonly level: Level;
  readonly columns: number;
  readonly rows: number;
  /** Over the size that the distance asks; below 1 the reader must come nearer. */
  readonly scale: number;
  /** Distance from which everything that is shown can be read. */
  readonly readable_metres: number;
}

interface Area {
  readonly width_pixels: number;
  readonly height_pixels: number;
}

/** Minutes of arc that one station takes in height. */
const heightArc = (needs: LevelNeeds): number =>
  PADDING_ARC +
  needs.name * NAME_LINE +
  needs.digits * needs.lane +
  needs.state * STATE_LINE +
  needs.facts * FACT_LINE * needs.factLines;

interface Candidate {
  readonly columns: number;
  readonly rows: number;
  readonly scale: number;
  /** How well it uses the screen: the tighter side counts more, room on the other side a little. */
  readonly use: number;
}

const candidate = (
  level: Level,
  columns: number,
  count: number,
  area: Area,
  pixelsPerArc: number,
): Candidate => {
  const needs = NEEDS[level];
  const rows = Math.ceil(count / columns);
  const wide = area.width_pixels / columns / (needs.width * pixelsPerArc);
  const high = area.height_pixels / rows / (heightArc(needs) * pixelsPerArc);
  const scale = Math.min(wide, high);
  return { columns, rows, scale, use: scale ** 0.7 * Math.max(wide, high) ** 0.3 };
};

const bestCandidate = (level: Level, count: number, area: Area, pixelsPerArc: number): Candidate => {
  const all = Array.from({ length: count }, (_, index) =>
    candidate(level, index + 1, count, area, pixelsPerArc),
  )
    // A column that stays empty in every row is no candidate.
    .filter(({ rows, columns }) => Math.ceil(count / rows) === columns);
  const large = all.filter(({ scale }) => scale >= 1);
  return (large.length > 0 ? large : all).reduce((best, next) =>
    (large.length > 0 ? next.use > best.use : next.scale > best.scale) ? next : best,
  );
};

/** `pixelsPerArc`: type size in pixels for one minute of arc at the distance set. */
export const wallLayout = (
  count: number,
  area: Area,
  pixelsPerArc: number,
  distance_metres: number,
): WallLayout => {
  const stations = Math.max(1, count);
  const of = (level: Level) => ({ level, ...bestCandidate(level, stations, area, pixelsPerArc) });
  const { level, columns, rows, ...fit } = LEVELS.map(of).find(({ scale }) => scale >= 1) ?? of('compact');
  const scale = Math.min(LARGEST, fit.scale);
  return { level, columns, rows, scale, readable_metres: distance_metres * scale };
};

const LETTER_WIDTH = 0.46;
const LEAST_SHRINK = 0.62;

/** Long words shrink a little before they are cut: width of a letter is about 0.46 of its size in this type. */
export const shrinkToFit = (length: number, width_pixels: number, type_pixels: number): number =>
  Math.max(LEAST_SHRINK, Math.min(1, width_pixels / (length * type_pixels * LETTER_WIDTH)));
