// What the demonstration's people wrote down in its simulated past: patterns and charges. Cases are invented.

import type { WaxClassId } from '../wax/classes/wax-class-id.ts';

const HOUR = 3_600_000;
export const PAST_DAYS = 7;

interface MadePattern {
  readonly id: string;
  readonly caseReference: string;
  readonly wax: WaxClassId;
  readonly technique: 'dipped' | 'layered' | 'sheet';
  readonly millimetres: number;
  readonly micrometres: number;
  readonly hoursAgo: number;
  readonly by: string;
  readonly station: string;
  readonly movedTo?: { readonly station: string; readonly hoursAgo: number };
}

const MADE: readonly MadePattern[] = [
  {
    id: '4TK7M',
    caseReference: 'AB-1042 crown 26',
    wax: 'inlay-type-2',
    technique: 'dipped',
    millimetres: 9,
    micrometres: 40,
    hoursAgo: 20,
    by: 'Mira Holm',
    station: 'pattern-cabinet',
  },
  {
    id: 'R2WDX',
    caseReference: 'AB-1043 bridge 34-36',
    wax: 'inlay-type-2',
    technique: 'layered',
    millimetres: 27,
    micrometres: 90,
    hoursAgo: 30,
    by: 'Anton Reuss',
    station: 'window-shelf',
    movedTo: { station: 'pattern-cabinet', hoursAgo: 8 },
  },
  {
    id: '9HQ3C',
    caseReference: 'AB-1044 onlay 15',
    wax: 'inlay-type-2',
    technique: 'dipped',
    millimetres: 8,
    micrometres: 50,
    hoursAgo: 6,
    by: 'Mira Holm',
    station: 'window-shelf',
  },
  {
    id: 'M8V5P',
    caseReference: 'AB-1039 frame lower',
    wax: 'casting-freer-flow',
    technique: 'sheet',
    millimetres: 55,
    micrometres: 250,
    hoursAgo: 44,
    by: 'Anton Reuss',
    station: 'pattern-cabinet',
  },
];

interface PatternStay {
  readonly station: string;
  readonly from: string;
  readonly to: string | null;
}
export interface DemoPattern extends Pick<MadePattern, 'id' | 'caseReference' | 'wax' | 'technique'> {
  readonly length_millimetres: number;
  readonly tolerance_micrometres: number;
  readonly madeAt: string;
  readonly madeBy: string;
  readonly stays: readonly PatternStay[];
  readonly fate: null;
}
export interface DemoCharge {
  readonly id: string;
  readonly station: string;
  readonly wax: WaxClassId;
  readonly grams: number;
  readonly startedAt: string;
  readonly topUps: readonly [];
  readonly cleanedAt: string;
  readonly endedAt: null;
}
/** A pot with wax in it. */
export interface DemoPot {
  readonly id: string;
  readonly wax: WaxClassId;
  readonly grams: number;
}

const ago = (now: number, hours: number): string => new Date(now - hours * HOUR).toISOString();

/** At `now`, milliseconds since 1970. */
export const demoPatterns = (now: number): readonly DemoPattern[] =>
  MADE.map(({ movedTo, ...made }) => {
    const madeAt = ago(now, made.hoursAgo);
    const moved = movedTo === undefined ? null : ago(now, movedTo.hoursAgo);
    return {
      id: made.id,
      caseReference: made.caseReference,
      wax: made.wax,
      technique: made.technique,
      length_millimetres: made.millimetres,
      tolerance_micrometres: made.micrometres,
      madeAt,
      madeBy: made.by,
      stays: [
        { station: made.station, from: madeAt, to: moved },
        ...(movedTo === undefined ? [] : [{ station: movedTo.station, from: moved ?? madeAt, to: null }]),
      ],
      fate: null,
    };
  });

/** Saves each pattern when its time comes, so that it ages only where it lay. */
export const patternDiary = (
  patterns: readonly DemoPattern[],
  save: (pattern: DemoPattern) => void,
): ((at: number) => void) => {
  const savedStays = new Map<string, number>();
  return (at) => {
    for (const pattern of patterns) {
      const begun = pattern.stays.filter(({ from }) => Date.parse(from) <= at);
      if (begun.length === (savedStays.get(pattern.id) ?? 0)) continue;
      savedStays.set(pattern.id, begun.length);
      const stays = begun.map((stay, index) => (index === begun.length - 1 ? { ...stay, to: null } : stay));
      save({ ...pattern, stays });
    }
  };
};

/** Every pot's charge is as old as the past. */
export const demoCharges = (pots: readonly DemoPot[], now: number): readonly DemoCharge[] => {
  const startedAt = ago(now, PAST_DAYS * 24);
  return pots
    .filter(({ grams }) => grams > 0)
    .map(({ id, wax, grams }) => ({
      id: `${id}-1`,
      station: id,
      wax,
      grams,
      startedAt,
      topUps: [],
      cleanedAt: startedAt,
      endedAt: null,
    }));
};
