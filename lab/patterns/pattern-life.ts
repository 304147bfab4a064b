// The life of a pattern read from what people did to it: since when its fit counts, when it sat on its die, what is said
// of its temperature where nothing measures it, and how long it has been standing. Pure.

import type { HoldPeriod } from '../../wax/relaxation/relaxation.ts';
import { type EpochMillis, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import type { LifeAct, Pattern } from '../pattern.ts';
import { isAtTheBench } from './pattern-stays.ts';

/** A direct pattern is formed at the temperature of the mouth. Common practice. */
export const MOUTH_CELSIUS = 37;

/** Said by people of a time without a probe: a temperature, or nothing but how warm it was at most. */
export interface StatedStretch {
  readonly from: number;
  readonly to: number;
  readonly celsius: number | null;
  readonly atMostCelsius: number;
  /** It still lasts at `to`. */
  readonly isOpen: boolean;
}

export type Whereabouts = 'on-die' | 'standing' | 'chilled' | 'away';

export interface PatternLife {
  /** When its strain was frozen in last. */
  readonly frozenAt: EpochMillis;
  /** When its fit was established last. */
  readonly fittedAt: EpochMillis;
  /** At that instant, °C; null: at the temperature of the room. */
  readonly fittedCelsius: number | null;
  /** Measured then; 0 where it was made to fit. */
  readonly misfit: number;
  /** From `fittedAt` to the end. */
  readonly periods: readonly HoldPeriod[];
  readonly stated: readonly StatedStretch[];
  readonly whereabouts: Whereabouts;
  /** Since when it stands ready to be invested; null on its die, chilled or away. */
  readonly standingSince: EpochMillis | null;
  /** It was in other hands since its fit was established. */
  readonly wasAway: boolean;
  /** The newest measured gap since it was formed; null: none. */
  readonly measuredGap: { readonly at: EpochMillis; readonly micrometres: number } | null;
}

const isSetUp = ({ kind }: Pattern): boolean => kind === 'denture-set-up';

/** Acts up to an instant, oldest first. */
const actsUntil = ({ acts = [] }: Pattern, at: number): readonly LifeAct[] =>
  acts
    .filter((act) => Date.parse(act.at) <= at)
    .toSorted((earlier, later) => Date.parse(earlier.at) - Date.parse(later.at));

interface Running {
  frozenAt: number;
  fittedAt: number;
  fittedCelsius: number | null;
  misfit: number;
  isOnDie: boolean;
  chilledSince: number | null;
  chilledCelsius: number | null;
  awaySince: number | null;
  standingSince: number;
  wasAway: boolean;
  gap: { at: number; micrometres: number } | null;
  periods: { from: number; to: number; isHeld: boolean }[];
  stated: StatedStretch[];
  since: number;
}

const contactCelsius = ({ origin, celsius }: LifeAct | NonNullable<Pattern['forming']>): number | null =>
  origin === 'direct' ? (celsius ?? MOUTH_CELSIUS) : null;

/** Ends the present stretch of holding and begins another. */
const turn = (run: Running, at: number, isHeld: boolean): void => {
  if (at > run.since) run.periods.push({ from: run.since, to: at, isHeld: run.isOnDie });
  run.since = at;
  run.isOnDie = isHeld;
};

const fitAgain = (run: Running, at: number, misfit: number, celsius: number | null): void => {
  endChill(run, at);
  turn(run, at, run.isOnDie);
  Object.assign(run, { fittedAt: at, fittedCelsius: celsius, misfit, wasAway: false, periods: [] });
  run.standingSince = at;
};

const endChill = (run: Running, at: number, isOpen = false): void => {
  const { chilledSince: from, chilledCelsius: celsius } = run;
  if (from !== null && celsius !== null)
    run.stated.push({ from, to: at, celsius, atMostCelsius: celsius, isOpen });
  run.chilledSince = null;
  run.chilledCelsius = null;
};

const TAKE: Readonly<Record<LifeAct['kind'], (run: Running, act: LifeAct, at: number) => void>> = {
  formed: (run, act, at) => {
    fitAgain(run, at, 0, contactCelsius(act));
    run.frozenAt = at;
    run.gap = null;
  },
  // Wax that is melted onto the margin on the die fits there again; off the die nothing shows where it must fit.
  'margins-resealed': (run, _, at) => {
    if (!run.isOnDie) return;
    fitAgain(run, at, 0, null);
    run.frozenAt = at;
    run.gap = null;
  },
  'seated-on-die': (run, _, at) => turn(run, at, true),
  'off-die': (run, _, at) => {
    turn(run, at, false);
    run.standingSince = at;
  },
  chilled: (run, act, at) => {
    endChill(run, at);
    run.chilledSince = at;
    run.chilledCelsius = act.celsius ?? null;
  },
  'back-at-room-temperature': (run, _, at) => {
    endChill(run, at);
    run.standingSince = at;
  },
  'sent-for-try-in': (run, _, at) => {
    endChill(run, at);
    turn(run, at, false);
    run.awaySince = at;
    run.wasAway = true;
  },
  // That it is back is taken before any act of the bench.
  returned: () => {},
  // Wax that is seated has the temperature of the room.
  seated: (run, act, at) => {
    const micrometres = act.gap_micrometres ?? 0;
    fitAgain(run, at, micrometres, null);
    run.gap = { at, micrometres };
  },
  sprued: () => {},
  'burned-out': () => {},
  cast: () => {},
  processed: () => {},
};

const endAway = (run: Running, at: number, isOpen = false): void => {
  if (run.awaySince !== null)
    run.stated.push({ from: run.awaySince, to: at, celsius: null, atMostCelsius: MOUTH_CELSIUS, isOpen });
  run.awaySince = null;
};

/** Whoever works on it, or lays it somewhere, has it back. */
const takeBack = (run: Running, at: number): void => {
  if (run.awaySince === null) return;
  endAway(run, at);
  run.standingSince = at;
};

/** What was done, and when it was laid somewhere, in order of time. */
const eventsUntil = (pattern: Pattern, until: number): readonly { at: number; act: LifeAct | null }[] => {
  const acts = actsUntil(pattern, until).map((act) => ({ at: Date.parse(act.at), act }));
  const laid = pattern.stays
    .map(({ from }) => ({ at: Date.parse(from), act: null }))
    .filter(({ at }) => at <= until);
  return [...acts, ...laid].toSorted((earlier, later) => earlier.at - later.at);
};

const whereaboutsOf = (run: Running): Whereabouts => {
  if (run.awaySince !== null) return 'away';
  if (run.chilledSince !== null) return 'chilled';
  return run.isOnDie ? 'on-die' : 'standing';
};

/** As it was at an instant; what is done later is not seen. */
export function patternLife(pattern: Pattern, at: EpochMillis): PatternLife {
  const madeAt = Math.min(at, Date.parse(pattern.madeAt));
  const run: Running = {
    frozenAt: madeAt,
    fittedAt: madeAt,
    fittedCelsius: contactCelsius(pattern.forming ?? {}),
    misfit: 0,
    isOnDie: pattern.isMadeOnDie === true,
    chilledSince: null,
    chilledCelsius: null,
    awaySince: null,
    gap: null,
    standingSince: madeAt,
    wasAway: false,
    periods: [],
    stated: [],
    since: madeAt,
  };
  for (const { at: when, act } of eventsUntil(pattern, at)) {
    const after = Math.max(madeAt, when);
    if (act === null || isAtTheBench(act.kind)) takeBack(run, after);
    if (act !== null) TAKE[act.kind](run, act, after);
  }
  const whereabouts = whereaboutsOf(run);
  endChill(run, at, true);
  endAway(run, at, true);
  run.periods.push({ from: run.since, to: at, isHeld: run.isOnDie });
  return {
    frozenAt: run.frozenAt as EpochMillis,
    fittedAt: run.fittedAt as EpochMillis,
    fittedCelsius: run.fittedCelsius,
    misfit: run.misfit,
    // No die holds a tooth in wax.
    periods: run.periods.map((period) => ({
      from: period.from as EpochMillis,
      to: period.to as EpochMillis,
      isHeld: period.isHeld && !isSetUp(pattern),
    })),
    stated: run.stated,
    whereabouts,
    standingSince: whereabouts === 'standing' ? (run.standingSince as EpochMillis) : null,
    wasAway: run.wasAway,
    measuredGap: run.gap === null ? null : { ...run.gap, at: run.gap.at as EpochMillis },
  };
}

/** When its standing time is up; null where there is none: on its die, chilled, away, or a set-up on its articulator. */
export const standingDueAt = (
  pattern: Pattern,
  { standingSince }: PatternLife,
  standingMinutes: number,
): EpochMillis | null =>
  standingSince === null || standingMinutes === 0 || isSetUp(pattern)
    ? null
    : ((standingSince + standingMinutes * MILLIS_PER_MINUTE) as EpochMillis);
