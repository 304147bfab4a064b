// What the demonstration's people wrote down in its simulated past: patterns and charges. Cases are invented.

import type { Charge } from '../lab/charge.ts';
import type { Lab } from '../lab/lab.ts';
import type { LabRepository } from '../lab/lab-repository.ts';
import type { Pattern } from '../lab/pattern.ts';
import { holdsMeltedWax } from '../lab/station-kinds.ts';
import { type EpochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR } from '../wax/units.ts';

export const PAST_DAYS = 7;

interface Made {
  readonly id: string;
  readonly caseReference: string;
  readonly wax: Pattern['wax'];
  readonly technique: Pattern['technique'];
  readonly millimetres: number;
  readonly micrometres: number;
  readonly hoursAgo: number;
  readonly by: string;
  readonly station: string;
  readonly movedTo?: { readonly station: string; readonly hoursAgo: number };
}

const MADE: readonly Made[] = [
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

const ago = (now: EpochMillis, hours: number): string =>
  new Date(now - hours * MILLIS_PER_HOUR).toISOString();

export const demoPatterns = (now: EpochMillis): readonly Pattern[] =>
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

/** Writes each pattern down when its time comes, so that it ages only where it lay. */
export const patternDiary = (patterns: readonly Pattern[], repository: LabRepository) => {
  const known = new Map<string, number>();
  return (at: EpochMillis): void => {
    for (const pattern of patterns) {
      const begun = pattern.stays.filter(({ from }) => Date.parse(from) <= at);
      if (begun.length === (known.get(pattern.id) ?? 0)) continue;
      known.set(pattern.id, begun.length);
      const stays = begun.map((stay, index) => (index === begun.length - 1 ? { ...stay, to: null } : stay));
      repository.savePattern({ ...pattern, stays });
    }
  };
};

/** Every pot's charge is as old as the past. */
export const demoCharges = ({ stations }: Lab, now: EpochMillis): readonly Charge[] => {
  const startedAt = ago(now, PAST_DAYS * (MILLIS_PER_DAY / MILLIS_PER_HOUR));
  return stations.flatMap(({ id, kind, wax, charge_grams: grams = 0 }): Charge[] =>
    holdsMeltedWax(kind) && wax !== null && grams > 0
      ? [
          {
            id: `${id}-1`,
            station: id,
            wax,
            grams,
            startedAt,
            topUps: [],
            cleanedAt: startedAt,
            endedAt: null,
          },
        ]
      : [],
  );
};
