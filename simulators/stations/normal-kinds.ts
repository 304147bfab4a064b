// Ordinary weeks of many kinds: nothing is wrong in any of them.

import type { WorldWishes } from './wishes.ts';

export const NORMAL_KINDS = {
  'winter-week': { days: [5, 8], seasons: ['winter'] },
  'summer-week': { days: [5, 8], seasons: ['summer'] },
  'transition-week': { days: [5, 8], seasons: ['transition'] },
  'lunch-on': { days: [4, 6], pots: [1, 2], hasPause: true, pot: { stayOnAtPauses: true } },
  preheat: { days: [4, 6], pots: [1, 2], pot: { preheatMinutes: [40, 110] } },
  'hot-topup': { days: [4, 6], pots: [1, 2], pot: { addsHot: true } },
  'lid-off': { days: [4, 6], pots: [1, 2], pot: { lidOffShare: 0.4 } },
  dipping: { days: [4, 6], pots: [1, 2], pot: { dipsOften: true } },
  'winter-airing': {
    days: [5, 6],
    seasons: ['winter'],
    pots: [0, 1],
    shelves: [1, 1],
    cabinets: [1, 1],
    airing: { timesADay: [2, 4], minutes: [4, 15] },
  },
  'summer-empty-cabinet': {
    days: [4, 6],
    seasons: ['summer'],
    pots: [0, 1],
    cabinets: [1, 2],
    regulatedCabinets: false,
    cabinetsEmpty: true,
    cooledRoom: false,
  },
  'night-setback': {
    days: [5, 7],
    seasons: ['winter'],
    pots: [0, 1],
    shelves: [1, 1],
    setbackKelvin: [2.5, 5],
  },
  'cooling-bath': { days: [4, 6], pots: [0, 1], baths: [1, 2], bathCoolsAtNoon: true },
  'lamp-minutes': { days: [4, 6], pots: [0, 1], lamps: [1, 2] },
  'late-evening': { days: [4, 6], pots: [1, 2], pot: { lateShare: 0.5, lateMinutes: [30, 100] } },
  holiday: { days: [5, 8], pots: [1, 2], holiday: true },
} as const satisfies Readonly<Record<string, WorldWishes>>;

export type NormalKind = keyof typeof NORMAL_KINDS;
