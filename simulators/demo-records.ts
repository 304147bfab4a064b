// What the demonstration's people wrote down in its simulated past: lots, charges and patterns with what was done to them.
// Lots are invented; cases and makers are named in `words/*/demonstration.json`.

import type { WaxClassId } from '../wax/classes/wax-class-id.ts';
import type { SimulatedSite } from './lab/site-hours.ts';
import { type WorkedAt, workedInstant } from './lab/worked-instant.ts';
import { iso } from '../wax/iso.ts';

const DAY = 86_400_000;
export const PAST_DAYS = 7;

interface DoneAct {
  readonly kind: 'off-die' | 'margins-resealed' | 'sprued' | 'seated';
  readonly done: WorkedAt;
  readonly gap_micrometres?: number;
}

interface MadePattern {
  readonly id: string;
  readonly wax: WaxClassId;
  readonly technique: 'dipped' | 'layered' | 'sheet';
  readonly length_millimetres: number;
  readonly tolerance_micrometres: number;
  readonly made: WorkedAt;
  readonly madeBy: string;
  readonly station: string;
  /** Pot that its wax came from, else the lot of the pack. */
  readonly pot?: string;
  readonly lot?: string;
  readonly isMadeOnDie?: true;
  readonly forming: { readonly origin: 'pot' | 'dip' | 'sheet'; readonly softening?: 'flame' };
  readonly acts: readonly DoneAct[];
  readonly movedTo?: { readonly station: string; readonly done: WorkedAt };
}

const MADE: readonly MadePattern[] = [
  {
    id: '4TK7M',
    wax: 'inlay-type-2',
    technique: 'dipped',
    length_millimetres: 9,
    tolerance_micrometres: 40,
    made: { daysWorkedAgo: 1, hoursOpen: 5 },
    madeBy: 'Mira Holm',
    station: 'pattern-cabinet',
    pot: 'melt-pot-crowns',
    isMadeOnDie: true,
    forming: { origin: 'pot' },
    acts: [
      { kind: 'off-die', done: { minutesAgo: 9 } },
      { kind: 'sprued', done: { minutesAgo: 4 } },
    ],
  },
  {
    id: 'R2WDX',
    wax: 'inlay-type-2',
    technique: 'layered',
    length_millimetres: 27,
    tolerance_micrometres: 90,
    made: { daysWorkedAgo: 2, hoursOpen: 6 },
    madeBy: 'Anton Reuss',
    station: 'window-shelf',
    pot: 'melt-pot-crowns',
    forming: { origin: 'pot' },
    acts: [{ kind: 'seated', done: { daysWorkedAgo: 1, hoursOpen: 6.5 }, gap_micrometres: 30 }],
    movedTo: { station: 'pattern-cabinet', done: { daysWorkedAgo: 1, hoursOpen: 6 } },
  },
  {
    id: '9HQ3C',
    wax: 'inlay-type-2',
    technique: 'dipped',
    length_millimetres: 8,
    tolerance_micrometres: 50,
    made: { daysWorkedAgo: 1, hoursOpen: 4 },
    madeBy: 'Mira Holm',
    station: 'window-shelf',
    pot: 'melt-pot-crowns',
    isMadeOnDie: true,
    forming: { origin: 'dip' },
    acts: [{ kind: 'margins-resealed', done: { daysWorkedAgo: 1, hoursOpen: 6.2 } }],
  },
  {
    id: 'M8V5P',
    wax: 'casting-freer-flow',
    technique: 'sheet',
    length_millimetres: 55,
    tolerance_micrometres: 250,
    made: { daysWorkedAgo: 2, hoursOpen: 3 },
    madeBy: 'Anton Reuss',
    station: 'pattern-cabinet',
    lot: 'sheets',
    forming: { origin: 'sheet', softening: 'flame' },
    acts: [{ kind: 'sprued', done: { minutesAgo: 6 } }],
  },
];

export interface DemoLot {
  readonly id: string;
  readonly wax: WaxClassId;
  readonly maker: string;
  readonly lot: string;
  readonly expiresOn: string | null;
  readonly sheetValues: Readonly<Record<string, number>>;
  readonly recordedAt: string;
  readonly recordedBy: string;
}
/** A pot with wax in it. */
export interface DemoPot {
  readonly id: string;
  readonly wax: WaxClassId;
  readonly grams: number;
}

const daysAgo = (now: number, days: number): string => iso(now - days * DAY);

/** At `now`, milliseconds since 1970, at a site that is worked at least once a week; its case by the id of the pattern. */
export const demoPatterns = (site: SimulatedSite, now: number, caseOf: (pattern: string) => string) =>
  MADE.map(({ made, station, pot, movedTo, acts, ...pattern }) => {
    const at = (done: WorkedAt): string => iso(workedInstant(site, now, done));
    const madeAt = at(made);
    const moved = movedTo === undefined ? null : at(movedTo.done);
    return {
      ...pattern,
      caseReference: caseOf(pattern.id),
      madeAt,
      stays: [
        { station, from: madeAt, to: moved },
        ...(movedTo === undefined ? [] : [{ station: movedTo.station, from: moved ?? madeAt, to: null }]),
      ],
      fate: null,
      ...(pot !== undefined && { charge: `${pot}-1`, lot: lotOf(pot) }),
      acts: acts.map(({ done, ...act }, index) => ({
        ...act,
        id: `${pattern.id}-${index + 1}`,
        at: at(done),
        recordedAt: at(done),
        by: pattern.madeBy,
      })),
    };
  });
export type DemoPattern = ReturnType<typeof demoPatterns>[number];

/** Saves each pattern when its time comes, so that it ages only where it lay. */
export const patternDiary = (
  patterns: readonly DemoPattern[],
  save: (pattern: DemoPattern) => void,
): ((at: number) => void) => {
  const savedSteps = new Map<string, number>();
  return (at) => {
    for (const pattern of patterns) {
      const begun = pattern.stays.filter(({ from }) => Date.parse(from) <= at);
      const acts = pattern.acts.filter((act) => Date.parse(act.at) <= at);
      const steps = begun.length === 0 ? 0 : begun.length + acts.length;
      if (steps === (savedSteps.get(pattern.id) ?? 0)) continue;
      savedSteps.set(pattern.id, steps);
      const stays = begun.map((stay, index) => (index === begun.length - 1 ? { ...stay, to: null } : stay));
      save({ ...pattern, stays, acts });
    }
  };
};

const LOTS: readonly (Omit<DemoLot, 'maker' | 'recordedAt' | 'recordedBy' | 'expiresOn'> & {
  readonly daysLeft: number;
})[] = [
  { id: 'crowns', wax: 'inlay-type-2', lot: 'BG-2207', sheetValues: { 'melting.low': 57 }, daysLeft: 400 },
  { id: 'crowns-new', wax: 'inlay-type-2', lot: 'BG-2311', sheetValues: {}, daysLeft: 620 },
  { id: 'dip', wax: 'inlay-dip', lot: 'BD-0418', sheetValues: {}, daysLeft: -12 },
  { id: 'sheets', wax: 'casting-freer-flow', lot: '7731-C', sheetValues: {}, daysLeft: 900 },
];

const LOT_OF_POT: Readonly<Record<string, string>> = { 'melt-pot-crowns': 'crowns', 'dip-pot': 'dip' };
const lotOf = (pot: string): string => LOT_OF_POT[pot] ?? '';

/** At `now`, milliseconds since 1970, with the maker by the id of the lot; one of them is past its last day. */
export const demoLots = (now: number, makerOf: (lot: string) => string): readonly DemoLot[] =>
  LOTS.map(({ daysLeft, ...lot }) => ({
    ...lot,
    maker: makerOf(lot.id),
    expiresOn: daysAgo(now, -daysLeft).slice(0, 10),
    recordedAt: daysAgo(now, PAST_DAYS + 1),
    recordedBy: 'Anton Reuss',
  }));

/** The crown pot was topped up from the newer lot, after the patterns that wait were made. */
export const demoTopUp = (site: SimulatedSite, now: number) => ({
  station: 'melt-pot-crowns',
  fraction: 0.25,
  lot: 'crowns-new',
  at: workedInstant(site, now, { daysWorkedAgo: 1, hoursOpen: 6.3 }),
});

/** Every pot's charge is as old as the past. */
export const demoCharges = (pots: readonly DemoPot[], now: number) => {
  const startedAt = daysAgo(now, PAST_DAYS);
  return pots
    .filter(({ grams }) => grams > 0)
    .map(({ id, wax, grams }) => ({
      id: `${id}-1`,
      station: id,
      wax,
      grams,
      startedAt,
      ...(LOT_OF_POT[id] !== undefined && { lot: LOT_OF_POT[id] }),
      topUps: [],
      cleanedAt: startedAt,
      endedAt: null,
    }));
};
