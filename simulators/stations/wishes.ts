// What a case demands of the lab that is drawn for it; what it leaves open is drawn.

import type { Season } from './draw-places.ts';

export interface PotWishes {
  /** Nobody switches it off before the pause. */
  readonly stayOnAtPauses?: boolean;
  /** Heats before opening, so many minutes. */
  readonly preheatMinutes?: readonly [number, number];
  readonly lateShare?: number;
  readonly lateMinutes?: readonly [number, number];
  readonly addsHot?: boolean;
  readonly lidOffShare?: number;
  readonly dipsOften?: boolean;
  /** Never filled up, and so its charge ages as it is. */
  readonly neverFilled?: boolean;
  readonly control?: 'on-off';
  readonly hysteresisKelvin?: readonly [number, number];
  readonly finestProbe?: boolean;
}

export interface WorldWishes {
  /** Days that the case lasts. */
  readonly days: readonly [number, number];
  readonly seasons?: readonly [Season, ...Season[]];
  readonly pots?: readonly [number, number];
  readonly annealers?: readonly [number, number];
  readonly baths?: readonly [number, number];
  readonly lamps?: readonly [number, number];
  readonly shelves?: readonly [number, number];
  readonly cabinets?: readonly [number, number];
  readonly regulatedCabinets?: boolean;
  readonly cabinetsEmpty?: boolean;
  readonly cooledRoom?: boolean;
  readonly setbackKelvin?: readonly [number, number];
  readonly airing?: {
    readonly timesADay: readonly [number, number];
    readonly minutes: readonly [number, number];
  };
  readonly sunnyShelf?: boolean;
  readonly clearSky?: boolean;
  readonly pot?: PotWishes;
  /** The working day's pause is part of the hours. */
  readonly hasPause?: boolean;
  readonly bathCoolsAtNoon?: boolean;
  readonly holiday?: boolean;
  /** 1 for Monday: the first day. */
  readonly startsOn?: readonly [number, ...number[]];
  /** The case holds the Sunday on which clocks change. */
  readonly clockChange?: boolean;
  readonly worksSaturday?: boolean;
}
